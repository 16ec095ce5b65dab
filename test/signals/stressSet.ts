import { type DrawnSpoke, drawSpoke, type Kind } from './catalogue.ts';
import { addPartials } from './partials.ts';
import { type PluckSettings, type SimulatedPluck, simulatePluck, voiceOptionsFor } from './pluck.ts';
import { type Random, seededRandom } from './random.ts';
import { addBurst, addHum, clip, driftGain, gate } from './room.ts';
import { freehubClicks, rotorRing } from './soundSources.ts';
import { stringPower, voices } from './voices.ts';

export const STRESS_KINDS = [
  'thump',
  'clipping',
  'neighbour6',
  'neighbour12',
  'neighbour20',
  'hum',
  'gain',
  'gate',
  'freehub',
  'rotor',
] as const;
export type StressKind = (typeof STRESS_KINDS)[number];

/**
 * `n` plucks of style `full`, each spoiled in one way:
 * thump: a low knock of 8–30 ms, 0–6 dB over the sound's peak, with the pluck; clipping: cut at 10–40 % of the peak;
 * neighbour6/12/20: another spoke of the side, plucked before, still rings that many dB under the spoke's loudest tone at its onset;
 * hum: mains hum 10 dB under the string's power; gain: a gain control that climbs by 12 dB/s; gate: shuts 0.12–0.35 s after the onset;
 * freehub: clicks at 0 to −12 dB of the peak; rotor: a disc rotor rings 6–14 dB under the loudest tone.
 */
export function* stressSet(
  kind: StressKind,
  seed: string | number,
  n: number,
  snrDb = 25,
  kinds?: readonly Kind[],
): Generator<SimulatedPluck> {
  const random = seededRandom(`stress|${kind}|${seed}|${snrDb}`);
  for (let i = 0; i < n; i++) {
    const own = random.fork(i);
    yield spoiledPluck(kind, own, drawSpoke(own.fork('spoke'), kinds), { style: 'full', snrDb });
  }
}

/** One pluck of a drawn spoke, spoiled in one way. */
export function spoiledPluck(
  kind: StressKind,
  random: Random,
  drawn: DrawnSpoke,
  settings: PluckSettings,
): SimulatedPluck {
  const pluck = simulatePluck(random.fork('pluck'), drawn, settings);
  const { sampleRateHz: rateHz, onsetS } = pluck;
  const out = new Float64Array(pluck.samples);
  const peak = out.reduce((m, v) => Math.max(m, Math.abs(v)), 1e-12);
  const loudest = 10 ** (Math.max(...pluck.truth.tones.map((t) => t.levelDb)) / 20);
  const own = random.fork('spoil');
  switch (kind) {
    case 'thump':
      addBurst(
        out,
        rateHz,
        onsetS + own.uniform(-0.005, 0.02),
        { peak: peak * 10 ** (own.uniform(0, 6) / 20), decayS: own.uniform(0.008, 0.03), lowHz: 90, highHz: 700 },
        own,
      );
      break;
    case 'clipping': {
      const limit = peak * own.uniform(0.1, 0.4);
      clip(out, limit);
      for (let i = 0; i < out.length; i++) out[i] = ((out[i] as number) / limit) * 0.999;
      return { ...pluck, samples: new Float32Array(out) };
    }
    case 'neighbour6':
    case 'neighbour12':
    case 'neighbour20': {
      const underDb = Number(kind.slice(9));
      const level = loudest * 10 ** (-underDb / 20);
      const tensionN = drawn.spoke.tensionN * Math.exp(own.normal(0, 0.2));
      const other = voices(
        own.fork('voice'),
        { ...drawn.spoke, tensionN },
        voiceOptionsFor(drawn.kind, 'single', rateHz),
      );
      // Plucked 0–6 dB louder than this one, so long ago that it has fallen to the stated level; a long ring, or it would be gone.
      const main = other.partials.reduce((best, p) => (p.amplitude > best.amplitude ? p : best));
      const longer = Math.max(1, 0.2 / main.decayS);
      const agoS = Math.max(0.13, ((main.decayS * longer) / 8.686) * (own.uniform(0, 6) + underDb));
      const start = level * Math.exp(agoS / (main.decayS * longer));
      const ringing = other.partials.map((p) => ({ ...p, amplitude: p.amplitude * start, decayS: p.decayS * longer }));
      addPartials(out, rateHz, onsetS - agoS, ringing);
      break;
    }
    case 'hum':
      addHum(out, rateHz, humPower(pluck), own);
      break;
    case 'gain':
      driftGain(out, rateHz, 0, 12);
      break;
    case 'gate':
      gate(out, rateHz, onsetS - 0.02, onsetS + own.uniform(0.12, 0.35), own.uniform(0.005, 0.03));
      break;
    case 'freehub':
      freehubClicks(out, rateHz, onsetS - 0.25, out.length / rateHz, peak * 10 ** (own.uniform(-12, 0) / 20), own);
      break;
    case 'rotor':
      addPartials(
        out,
        rateHz,
        onsetS - own.uniform(0, 0.2),
        rotorRing(own, loudest * 10 ** (own.uniform(-14, -6) / 20)),
      );
      break;
  }
  const after = out.reduce((m, v) => Math.max(m, Math.abs(v)), 1e-12);
  if (after > 0.98) for (let i = 0; i < out.length; i++) out[i] = ((out[i] as number) * 0.98) / after;
  return { ...pluck, samples: new Float32Array(out) };
}

/** 10 dB under the string's own power. */
function humPower(pluck: SimulatedPluck): number {
  const partials = pluck.truth.tones.map((t) => ({
    frequencyHz: t.frequencyHz,
    amplitude: 10 ** (t.levelDb / 20),
    decayS: t.decayS,
    phase: 0,
    glides: [],
    riseS: 0,
  }));
  return stringPower(partials) / 10;
}
