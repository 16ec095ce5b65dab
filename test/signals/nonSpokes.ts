import { addNoise } from './noise.ts';
import { addPartials, type Partial } from './partials.ts';
import { type Random, seededRandom } from './random.ts';
import { addBurst, addHum, reverberate } from './room.ts';
import { freehubClicks, resonate, ring, rotorRing, speech } from './soundSources.ts';

type Maker = (out: Float64Array, rateHz: number, random: Random) => void;
const FIRST_S = 0.35;

/** A tone with harmonics of equal phase origin and a soft attack. */
function note(
  out: Float64Array,
  rateHz: number,
  fromS: number,
  toS: number,
  hz: number,
  level: number,
  random: Random,
): void {
  const tilt = random.uniform(0.5, 2);
  const vibrato = random.uniform(0, 0.006);
  const rate = random.uniform(4, 7);
  const harmonics = Array.from({ length: 10 }, (_, k) => level / (k + 1) ** tilt);
  let phase = 0;
  for (let i = Math.floor(fromS * rateHz); i < Math.min(out.length, toS * rateHz); i++) {
    const t = i / rateHz;
    const envelope = Math.min(1, (t - fromS) / 0.03, Math.max(0, (toS - t) / 0.05));
    phase += (2 * Math.PI * hz * (1 + vibrato * Math.sin(2 * Math.PI * rate * t))) / rateHz;
    let v = 0;
    for (let k = 0; k < harmonics.length; k++)
      if (hz * (k + 1) < rateHz * 0.45) v += (harmonics[k] as number) * Math.sin(phase * (k + 1));
    out[i] = (out[i] as number) + envelope * v;
  }
}

/** A plucked or struck string of an instrument: f = n f₀ √(1 + B n²), B far below a spoke's. @source Fletcher (1964), JASA 36:203 */
function instrumentString(
  random: Random,
  hz: number,
  level: number,
  b: readonly [number, number],
  decayS: number,
): Partial[] {
  const inharmonicity = random.logUniform(b[0], b[1]);
  const place = random.uniform(0.08, 0.3);
  return Array.from({ length: 16 }, (_, k) => {
    const n = k + 1;
    const strength = (level * Math.abs(Math.sin(Math.PI * n * place))) / n;
    return ring(random, n * hz * Math.sqrt(1 + inharmonicity * n * n), strength, decayS / n ** 0.6);
  });
}

const semitone = (random: Random, lowHz: number, highHz: number): number =>
  440 * 2 ** (Math.round(12 * Math.log2(random.logUniform(lowHz, highHz) / 440)) / 12);
const CHORDS = [
  [0, 4, 7],
  [0, 3, 7],
  [0, 4, 7, 10],
  [0, 5, 7],
  [0, 3, 6, 9],
];

const MAKERS = {
  speech,
  whistle: (out, rateHz, random) => {
    const from = random.logUniform(700, 2200);
    const to = from * random.uniform(0.7, 1.4);
    let phase = 0;
    const seconds = random.uniform(0.4, 1.2);
    for (let i = Math.floor(FIRST_S * rateHz); i < Math.min(out.length, (FIRST_S + seconds) * rateHz); i++) {
      const u = (i / rateHz - FIRST_S) / seconds;
      phase += (2 * Math.PI * (from + (to - from) * u) * (1 + 0.002 * random.normal())) / rateHz;
      const envelope = Math.min(1, u / 0.08, (1 - u) / 0.1);
      out[i] = (out[i] as number) + envelope * (Math.sin(phase) + 0.05 * Math.sin(2 * phase) + 0.03 * random.normal());
    }
  },
  chord: (out, rateHz, random) => {
    const base = semitone(random, 110, 520);
    for (const step of random.pick(CHORDS))
      note(out, rateHz, FIRST_S, FIRST_S + random.uniform(0.5, 1.2), base * 2 ** (step / 12), 0.5, random);
  },
  pianoChord: (out, rateHz, random) => {
    const base = semitone(random, 110, 520);
    for (const step of random.pick(CHORDS)) {
      const hz = base * 2 ** (step / 12);
      const at = FIRST_S + random.uniform(0, 0.03);
      for (let strings = 0; strings < 3; strings++)
        addPartials(
          out,
          rateHz,
          at,
          instrumentString(random, hz * (1 + random.normal(0, 3e-4)), 0.3, [1e-4, 1e-3], random.uniform(0.4, 2)),
        );
      addBurst(out, rateHz, at, { peak: 0.1, decayS: 0.01, lowHz: 80, highHz: 2000 }, random);
    }
  },
  guitar: (out, rateHz, random) => {
    const strum = random.chance(0.5);
    const base = semitone(random, 82, 500);
    const steps = strum ? random.pick(CHORDS) : [0];
    steps.forEach((step, k) => {
      const at = FIRST_S + k * random.uniform(0.01, 0.05);
      addPartials(
        out,
        rateHz,
        at,
        instrumentString(random, base * 2 ** (step / 12), 0.6, [1e-5, 3e-4], random.uniform(0.3, 1.5)),
      );
      addBurst(out, rateHz, at, { peak: 0.15, decayS: 0.006, lowHz: 200, highHz: 4000 }, random);
    });
  },
  // Hum, prime, tierce, quint, nominal …: partials of a tuned bell. @source Fletcher & Rossing, The Physics of Musical Instruments, ch. 21
  bell: (out, rateHz, random) => {
    const prime = random.logUniform(200, 1500);
    const ratios = [0.5, 1, 1.2, 1.5, 2, 2.5, 2.67, 3, 4, 5.33].map((r) => r * Math.exp(random.normal(0, 0.01)));
    const partials = ratios.flatMap((r) => {
      const level = 10 ** (random.uniform(-20, 0) / 20);
      const decayS = random.logUniform(0.2, 2) / Math.sqrt(r);
      return [
        ring(random, prime * r, level, decayS),
        ring(random, prime * r * (1 + random.uniform(3e-4, 4e-3)), level * 0.5, decayS),
      ];
    });
    addPartials(out, rateHz, FIRST_S, partials);
    addBurst(out, rateHz, FIRST_S, { peak: 0.5, decayS: 0.004, lowHz: 1000, highHz: 9000 }, random);
  },
  knock: (out, rateHz, random) => {
    let t = FIRST_S;
    const body = Array.from({ length: 5 }, () => ({
      hz: random.logUniform(80, 1500),
      decayS: random.logUniform(0.005, 0.05),
    }));
    for (let k = random.integer(1, 4); k > 0; k--) {
      const strength = random.uniform(0.5, 1);
      addBurst(
        out,
        rateHz,
        t,
        { peak: strength, decayS: random.uniform(0.001, 0.006), lowHz: 60, highHz: 5000 },
        random,
      );
      addPartials(
        out,
        rateHz,
        t,
        body.map((b) => ring(random, b.hz, strength * random.uniform(0.1, 0.5), b.decayS)),
      );
      t += random.uniform(0.12, 0.4);
    }
  },
  hum: (out, rateHz, random) => addHum(out, rateHz, 0.2, random),
  freehub: (out, rateHz, random) => freehubClicks(out, rateHz, FIRST_S, FIRST_S + random.uniform(0.3, 1.2), 1, random),
  rotor: (out, rateHz, random) => {
    addPartials(out, rateHz, FIRST_S, rotorRing(random, 1));
    addBurst(out, rateHz, FIRST_S, { peak: 0.5, decayS: 0.002, lowHz: 1500, highHz: 12000 }, random);
  },
  // Stick and slip: a sawtooth of irregular period through a few resonances, in strokes.
  squeak: (out, rateHz, random) => {
    let t = FIRST_S;
    while (t < out.length / rateHz - 0.2) {
      const seconds = random.uniform(0.08, 0.5);
      const x = new Float64Array(Math.ceil(seconds * rateHz));
      const hz = random.logUniform(300, 2500);
      const slide = random.uniform(-0.3, 0.3);
      let p = 0;
      for (let i = 0; i < x.length; i++) {
        const u = i / x.length;
        p += (hz * (1 + slide * u + 0.03 * random.normal())) / rateHz;
        x[i] = Math.sin(Math.PI * u) * (2 * (p - Math.floor(p)) - 1);
      }
      for (let k = 0; k < 2; k++) resonate(x, rateHz, random.logUniform(600, 5000), 400);
      const peak = x.reduce((m, v) => Math.max(m, Math.abs(v)), 1e-9);
      const first = Math.floor(t * rateHz);
      for (let i = 0; i < x.length && first + i < out.length; i++)
        out[first + i] = (out[first + i] as number) + (x[i] as number) / peak;
      t += seconds + random.uniform(0.05, 0.4);
    }
  },
  clap: (out, rateHz, random) => {
    let t = FIRST_S;
    for (let k = random.integer(1, 4); k > 0; k--) {
      addBurst(
        out,
        rateHz,
        t,
        { peak: random.uniform(0.6, 1), decayS: random.uniform(0.004, 0.02), lowHz: 500, highHz: 4000 },
        random,
      );
      t += random.uniform(0.2, 0.5);
    }
  },
  beep: (out, rateHz, random) => {
    const hz = random.logUniform(400, 3500);
    const square = random.chance(0.4);
    let t = FIRST_S;
    for (let k = random.integer(1, 4); k > 0; k--) {
      const seconds = random.uniform(0.05, 0.4);
      for (let i = Math.floor(t * rateHz); i < Math.min(out.length, (t + seconds) * rateHz); i++) {
        const u = i / rateHz - t;
        const edge = Math.min(1, u / 0.004, (seconds - u) / 0.004);
        let v = 0;
        for (let n = 1; n < (square ? 12 : 2); n += 2)
          if (n * hz < rateHz * 0.45) v += Math.sin(2 * Math.PI * n * hz * u) / n;
        out[i] = (out[i] as number) + edge * v;
      }
      t += seconds + random.uniform(0.05, 0.3);
    }
  },
  keys: (out, rateHz, random) => {
    const bits = Array.from({ length: 4 }, () => Array.from({ length: 4 }, () => random.logUniform(2000, 12000)));
    for (let t = FIRST_S; t < FIRST_S + 1; t += random.uniform(0.01, 0.12)) {
      const strength = random.uniform(0.1, 1);
      addPartials(
        out,
        rateHz,
        t,
        random
          .pick(bits)
          .map((hz) => ring(random, hz, strength * random.uniform(0.1, 1), random.logUniform(0.004, 0.06))),
      );
    }
  },
  engine: (out, rateHz, random) => {
    const hz = random.uniform(25, 90);
    let phase = 0;
    for (let i = 0; i < out.length; i++) {
      phase += (hz * (1 + 0.15 * Math.sin((2 * Math.PI * i) / rateHz / 1.3) + 0.02 * random.normal())) / rateHz;
      const p = phase - Math.floor(phase);
      out[i] = Math.exp(-p * 6) * (1 + 0.3 * random.normal());
    }
    resonate(out, rateHz, random.uniform(80, 300), 60);
  },
  drum: (out, rateHz, random) => {
    // Membrane: zeros of Bessel functions over the first. @source Rayleigh, Theory of Sound, § 206
    const ratios = [1, 1.594, 2.136, 2.296, 2.653, 2.918, 3.156, 3.501];
    const base = random.logUniform(60, 350);
    addPartials(
      out,
      rateHz,
      FIRST_S,
      ratios.map((r) => ring(random, base * r, 10 ** (random.uniform(-18, 0) / 20), random.logUniform(0.03, 0.25) / r)),
    );
    addBurst(out, rateHz, FIRST_S, { peak: 0.6, decayS: 0.004, lowHz: 200, highHz: 6000 }, random);
  },
  rustle: (out, rateHz, random) => {
    for (let t = 0.1; t < out.length / rateHz - 0.1; t += random.uniform(0.01, 0.2))
      addBurst(
        out,
        rateHz,
        t,
        {
          peak: random.uniform(0.05, 1),
          decayS: random.logUniform(0.003, 0.08),
          lowHz: random.logUniform(300, 3000),
          highHz: 10000,
        },
        random,
      );
  },
} satisfies Record<string, Maker>;

export type NonSpokeKind = keyof typeof MAKERS;
export const NON_SPOKE_KINDS = Object.keys(MAKERS) as NonSpokeKind[];

export interface NonSpoke {
  readonly kind: NonSpokeKind;
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** A sound as a telephone has it: −30 to −6 dBFS, in a small room half the time, noise 15–45 dB under the mean. Changes `out`. */
export function recorded(out: Float64Array, rateHz: number, random: Random): Float32Array {
  if (random.chance(0.5))
    reverberate(out, rateHz, random.uniform(0.15, 0.5), random.uniform(0.1, 0.5), random.fork('room'), 60);
  let peak = 1e-12;
  let energy = 0;
  for (const v of out) {
    peak = Math.max(peak, Math.abs(v));
    energy += v * v;
  }
  const scale = 10 ** (random.uniform(-30, -6) / 20) / peak;
  for (let i = 0; i < out.length; i++) out[i] = (out[i] as number) * scale;
  const power = (energy / out.length) * scale * scale;
  addNoise(out, rateHz, power / 10 ** (random.uniform(15, 45) / 10), 'pink', random.fork('noise'));
  return new Float32Array(out);
}

/** One sound that is no spoke: 1.8 s, as a telephone has it. */
export function nonSpoke(kind: NonSpokeKind, random: Random, rateHz = 48000, seconds = 1.8): NonSpoke {
  const out = new Float64Array(Math.round(seconds * rateHz));
  (MAKERS[kind] as Maker)(out, rateHz, random.fork('sound'));
  return { kind, samples: recorded(out, rateHz, random), sampleRateHz: rateHz };
}

/** `n` sounds that are no spokes, the classes in turn. */
export function* nonSpokeSet(seed: string | number, n: number, rateHz = 48000): Generator<NonSpoke> {
  const random = seededRandom(`nonSpoke|${seed}`);
  for (let i = 0; i < n; i++)
    yield nonSpoke(NON_SPOKE_KINDS[i % NON_SPOKE_KINDS.length] as NonSpokeKind, random.fork(i), rateHz);
}
