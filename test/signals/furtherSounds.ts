import { recorded } from './nonSpokes.ts';
import { addPartials } from './partials.ts';
import { type Random, seededRandom } from './random.ts';
import { addBurst } from './room.ts';
import { ring } from './soundSources.ts';

/**
 * Sounds of a workshop and a living room that were written after the judgement of sounds had been chosen and were not used to choose it.
 */
type Maker = (out: Float64Array, rateHz: number, random: Random) => void;
const FIRST_S = 0.35;

const level = (random: Random, lowDb: number): number => 10 ** (random.uniform(lowDb, 0) / 20);

/** Partials at ratios of a first one, their quality the same, each a little off. */
function struck(
  out: Float64Array,
  rateHz: number,
  random: Random,
  firstHz: number,
  ratios: readonly number[],
  quality: readonly [number, number],
): void {
  const q = random.logUniform(quality[0], quality[1]);
  addPartials(
    out,
    rateHz,
    FIRST_S,
    ratios.map((r, k) => {
      const hz = firstHz * r * Math.exp(random.normal(0, 0.004));
      return ring(random, hz, level(random, k === 0 ? -6 : -24), (q * random.logUniform(0.6, 1.6)) / (Math.PI * hz));
    }),
  );
}

const MAKERS = {
  // Undercut bar: its second tone is tuned to the double octave, its third near ten. @source Fletcher and Rossing, The Physics of Musical Instruments, ch. 19
  marimba: (out, rateHz, random) => {
    struck(out, rateHz, random, random.logUniform(130, 900), [1, 4, 9.8, 16.5], [60, 250]);
    addBurst(out, rateHz, FIRST_S, { peak: 0.2, decayS: 0.004, lowHz: 100, highHz: 2500 }, random);
  },
  // Two operators with a falling index. @source Chowning (1973), J. Audio Eng. Soc. 21:526
  notification: (out, rateHz, random) => {
    const ratio = random.pick([1, 1.4, 2, 3.5, 7]);
    let t = FIRST_S;
    for (let k = random.integer(1, 3); k > 0; k--) {
      const hz = random.logUniform(350, 1600);
      const decayS = random.uniform(0.08, 0.4);
      const index = random.uniform(1, 5);
      for (let i = Math.floor(t * rateHz); i < out.length; i++) {
        const u = i / rateHz - t;
        const falling = Math.exp(-u / decayS);
        const side = index * falling * Math.sin(2 * Math.PI * hz * ratio * u);
        out[i] = (out[i] as number) + falling * Math.min(1, u / 0.002) * Math.sin(2 * Math.PI * hz * u + side);
      }
      t += random.uniform(0.1, 0.35);
    }
  },
  // A bubble that closes rings higher as it rises. @source Minnaert (1933), Phil. Mag. 16:235; van den Doel (2005), ACM TAP 2:534
  drops: (out, rateHz, random) => {
    for (let t = FIRST_S; t < FIRST_S + 1.1; t += random.uniform(0.1, 0.5)) {
      const hz = random.logUniform(400, 2500);
      const decayS = random.uniform(0.01, 0.06);
      const rising = random.uniform(0, 4);
      let phase = 0;
      for (let i = Math.floor(t * rateHz); i < out.length; i++) {
        const u = i / rateHz - t;
        if (u > 8 * decayS) break;
        phase += (2 * Math.PI * hz * (1 + rising * u)) / rateHz;
        out[i] = (out[i] as number) + Math.exp(-u / decayS) * Math.sin(phase);
      }
    }
  },
  latch: (out, rateHz, random) => {
    const plates = Array.from({ length: 8 }, () => random.logUniform(250, 6000));
    let t = FIRST_S;
    for (let k = 0; k < 2; k++) {
      addBurst(out, rateHz, t, { peak: 1, decayS: random.uniform(0.001, 0.004), lowHz: 200, highHz: 9000 }, random);
      addPartials(
        out,
        rateHz,
        t,
        plates.map((hz) => ring(random, hz, level(random, -20), random.logUniform(0.004, 0.08))),
      );
      t += random.uniform(0.03, 0.25);
    }
  },
  // Nylon or steel on a box: slightly stiff strings, the box's own two resonances, a nail's click.
  lute: (out, rateHz, random) => {
    const hz = random.logUniform(82, 700);
    const b = random.logUniform(2e-5, 6e-4);
    const place = random.uniform(0.08, 0.35);
    const q = random.logUniform(150, 900);
    addPartials(
      out,
      rateHz,
      FIRST_S,
      Array.from({ length: 18 }, (_, k) => {
        const n = k + 1;
        const f = n * hz * Math.sqrt(1 + b * n * n);
        const strength = (Math.abs(Math.sin(Math.PI * n * place)) / n) * level(random, -6);
        return ring(random, f, strength, q / (Math.PI * f) / (1 + f / 4000));
      }),
    );
    addPartials(out, rateHz, FIRST_S, [
      ring(random, random.uniform(90, 130), 0.3, 0.03),
      ring(random, random.uniform(180, 240), 0.3, 0.02),
    ]);
    addBurst(out, rateHz, FIRST_S, { peak: 0.3, decayS: 0.003, lowHz: 500, highHz: 8000 }, random);
  },
  fork: (out, rateHz, random) => {
    // Clamped bar. @source Rayleigh, Theory of Sound, § 177
    struck(out, rateHz, random, random.pick([128, 256, 426.7, 440, 512]), [1, 6.267, 17.55], [600, 3000]);
    addBurst(out, rateHz, FIRST_S, { peak: 0.2, decayS: 0.002, lowHz: 800, highHz: 8000 }, random);
  },
  // Bending of a bowl's rim, each mode split in two. @source French (1983), Am. J. Phys. 51:688
  glass: (out, rateHz, random) => {
    const first = random.logUniform(400, 1800);
    const ratios = [2, 3, 4, 5, 6].map((n) => ((n * n - 1) / 3) * Math.sqrt((1 + 1.33 / n ** 4) / (1 + 1.33 / 16)));
    struck(out, rateHz, random, first, [...ratios, ...ratios.map((r) => r * random.uniform(1.002, 1.01))], [150, 1500]);
    addBurst(out, rateHz, FIRST_S, { peak: 0.4, decayS: 0.002, lowHz: 1500, highHz: 12000 }, random);
  },
  metronome: (out, rateHz, random) => {
    const box = Array.from({ length: 4 }, () => random.logUniform(600, 4000));
    for (let t = FIRST_S; t < 1.7; t += random.pick([0.3, 0.5, 0.6]))
      addPartials(
        out,
        rateHz,
        t,
        box.map((hz) => ring(random, hz, level(random, -12), random.logUniform(0.004, 0.03))),
      );
  },
  // A reed: a pulse train that swells.
  harmonica: (out, rateHz, random) => {
    const hz = random.logUniform(250, 1100);
    const attackS = random.uniform(0.02, 0.1);
    const width = random.uniform(0.1, 0.4);
    const seconds = random.uniform(0.3, 1);
    for (let n = 1; n * hz < Math.min(9000, rateHz * 0.45); n++) {
      const strength = Math.abs(Math.sin(Math.PI * n * width)) / n;
      for (let i = Math.floor(FIRST_S * rateHz); i < out.length; i++) {
        const u = i / rateHz - FIRST_S;
        if (u > seconds) break;
        const envelope = Math.min(1, u / attackS, (seconds - u) / 0.05);
        out[i] = (out[i] as number) + strength * envelope * Math.sin(2 * Math.PI * n * hz * u);
      }
    }
  },
  // A thin plate: its modes evenly spaced on average, anywhere.
  tin: (out, rateHz, random) => {
    const spacing = random.uniform(80, 400);
    const modes = Array.from({ length: 14 }, (_, k) => (k + random.uniform(0.5, 1.5)) * spacing);
    const q = random.logUniform(40, 300);
    addPartials(
      out,
      rateHz,
      FIRST_S,
      modes.map((hz) => ring(random, hz, level(random, -18), q / (Math.PI * hz))),
    );
    addBurst(out, rateHz, FIRST_S, { peak: 0.6, decayS: 0.003, lowHz: 400, highHz: 9000 }, random);
  },
} satisfies Record<string, Maker>;

export type FurtherKind = keyof typeof MAKERS;
export const FURTHER_KINDS = Object.keys(MAKERS) as FurtherKind[];

export interface FurtherSound {
  readonly kind: FurtherKind;
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** `n` further sounds that are no spokes, the classes in turn. */
export function* furtherSet(seed: string | number, n: number, rateHz = 48000): Generator<FurtherSound> {
  const random = seededRandom(`further|${seed}`);
  for (let i = 0; i < n; i++) {
    const kind = FURTHER_KINDS[i % FURTHER_KINDS.length] as FurtherKind;
    const own = random.fork(i);
    const out = new Float64Array(Math.round(1.8 * rateHz));
    (MAKERS[kind] as Maker)(out, rateHz, own.fork('sound'));
    yield { kind, samples: recorded(out, rateHz, own), sampleRateHz: rateHz };
  }
}
