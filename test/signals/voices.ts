import { type Partial, partialsPower } from './partials.ts';
import type { Random } from './random.ts';
import {
  deflectionAt,
  type Family,
  type Plane,
  ringingLengthM,
  type Spoke,
  type SpokeModes,
  spokeLengthM,
  spokeModes,
} from './spokeModes.ts';

/** One tone that a pluck of the spoke really has. */
export interface TrueTone {
  /** 1 = lowest of its family and plane; 0 = a mode of the rim that is heard with them (style `rich`). */
  readonly mode: number;
  readonly plane: Plane;
  readonly family: Family;
  /** In the limit of zero amplitude. */
  readonly frequencyHz: number;
  /** Index of the other tone of a doublet in the same list. */
  readonly pairMate?: number;
  /** Amplitude at the onset, dB re full scale. */
  readonly levelDb: number;
  readonly decayS: number;
  /** 2E/N0: energy of the tone over the one-sided noise density at it, dB; Infinity without noise. */
  readonly energySnrDb: number;
  /** Loud enough to be asked for: within 40 dB of the loudest tone and 2E/N0 of at least 23 dB. */
  readonly present: boolean;
}

/** A pluck before it meets the room: partials with the loudest at amplitude 1, and which tone each is. */
export interface Voices {
  readonly partials: Partial[];
  readonly tones: Omit<TrueTone, 'levelDb' | 'energySnrDb' | 'present' | 'pairMate'>[];
  /** Index of the mate of a doublet, −1 = none. */
  readonly mates: number[];
}

export interface VoiceOptions {
  /** `single`: one plane, no glide, every fundamental as plucked. `full`: see README.md. */
  readonly style: 'single' | 'full';
  /** Quality factor of the first tone is log-uniform between these. */
  readonly quality: readonly [number, number];
  readonly maximumHz: number;
}

/** How the spoke was touched. */
export interface Touch {
  readonly atM: number;
  readonly widthM: number;
  readonly releaseS: number;
}

const TONES = 12;

/**
 * Partials of one pluck: frequencies from the finite elements, amplitudes of a spoke deflected by a finger at one place and let go
 * (modal coordinate ∝ ∫φp dx / ω²), heard through the force on rim and hub with a smooth random response of 4 dB.
 */
export function voices(random: Random, spoke: Spoke, options: VoiceOptions): Voices {
  const modes = spokeModes(spoke, 'inPlane', TONES);
  const touch = drawTouch(random, spoke);
  const main = spoke.crossingFromHubM === undefined ? 'whole' : 'segment';
  const firstHz = modes.modes.find((m) => m.family === main)?.frequencyHz ?? 0;
  const quality = random.logUniform(options.quality[0], options.quality[1]);
  const firstDecayS = Math.min(0.8, Math.max(0.05, quality / (Math.PI * firstHz)));
  const decayPower = random.uniform(0.3, 1);
  const amplitudes = heardAmplitudes(random, modes, touch, spokeLengthM(spoke));
  const partials: Partial[] = [];
  const tones: Voices['tones'] = [];
  const mates: number[] = [];
  const full = options.style === 'full';
  const glide = full ? random.uniform(0, 0.02) : 0;
  const share1 = modes.modes.find((m) => m.family === main)?.tensionShare ?? 0.5;
  const weak = full ? random.uniform() : 1;
  const firstGain = weak < 0.1 ? 1e-3 : weak < 0.4 ? 10 ** (-random.uniform(10, 25) / 20) : 1;
  const split = random.logUniform(0.001, 0.01) * random.sign();
  const secondGain = random.uniform(0.1, 0.8);
  const secondDecay = random.logUniform(0.6, 1.6);
  modes.modes.forEach((m, k) => {
    if (m.frequencyHz > options.maximumHz) return;
    const decayS = firstDecayS * (m.frequencyHz / firstHz) ** -decayPower * Math.exp(random.normal(0, 0.15));
    const amplitude = (amplitudes[k] as number) * (m.family === main && m.mode === 1 ? firstGain : 1);
    const rise = {
      glides: glide > 0 ? [{ relative: (glide * m.tensionShare) / share1, decayS: firstDecayS / 2 }] : [],
      riseS: 0.0004,
    };
    const phase = random.uniform(0, 2 * Math.PI);
    const at = partials.length;
    partials.push({ frequencyHz: m.frequencyHz, amplitude, decayS, phase, ...rise });
    tones.push({ mode: m.mode, plane: 'inPlane', family: m.family, frequencyHz: m.frequencyHz, decayS });
    mates.push(full ? at + 1 : -1);
    if (!full) return;
    const secondHz = m.frequencyHz * (1 + split * Math.exp(random.normal(0, 0.15)));
    const secondS = decayS * secondDecay * Math.exp(random.normal(0, 0.1));
    const second = amplitude * secondGain * Math.exp(random.normal(0, 0.2));
    partials.push({
      frequencyHz: secondHz,
      amplitude: second,
      decayS: secondS,
      phase: random.uniform(0, 2 * Math.PI),
      ...rise,
    });
    tones.push({ mode: m.mode, plane: 'across', family: m.family, frequencyHz: secondHz, decayS: secondS });
    mates.push(at);
  });
  return normalised({ partials, tones, mates });
}

/** A place in the ringing part, 8–50 % of it from either of its ends; a soft finger or a hard pick. */
export function drawTouch(random: Random, spoke: Spoke): Touch {
  const ringing = ringingLengthM(spoke);
  const fraction = random.uniform(0.08, 0.5);
  const fromRim = random.chance(0.5) ? fraction : 1 - fraction;
  const soft = random.chance(0.7);
  return {
    atM: spokeLengthM(spoke) - fromRim * ringing,
    widthM: soft ? random.uniform(0.006, 0.014) : random.uniform(0.001, 0.003),
    releaseS: soft ? random.uniform(5e-5, 2.5e-4) : random.uniform(1e-5, 5e-5),
  };
}

function heardAmplitudes(random: Random, modes: SpokeModes, touch: Touch, lengthM: number): number[] {
  const hubShare = random.uniform(0, 0.3);
  const tilt = random.uniform(-0.5, 0.3);
  const scatterDb = 4;
  return modes.modes.map((m) => {
    const coordinate = coordinateOf(modes.x, m.deflection, m.frequencyHz, touch, lengthM);
    const force = Math.abs(m.rimForceN) + hubShare * Math.abs(m.hubForceN);
    return Math.abs(coordinate) * force * m.frequencyHz ** tilt * 10 ** (random.normal(0, scatterDb) / 20);
  });
}

/** Modal coordinate for a unit force spread over the finger (raised cosine), slowed by its release. */
export function coordinateOf(
  x: Float64Array,
  deflection: Float64Array,
  frequencyHz: number,
  touch: Touch,
  lengthM: number,
): number {
  let push = 0;
  for (let j = -4; j <= 4; j++) {
    const at = Math.min(lengthM, Math.max(0, touch.atM + (j / 5) * touch.widthM));
    push += deflectionAt(x, deflection, at) * 0.1 * (1 + Math.cos((Math.PI * j) / 5));
  }
  const omega = 2 * Math.PI * frequencyHz;
  return push / (omega * omega * Math.sqrt(1 + (omega * touch.releaseS) ** 2));
}

export function normalised(v: Voices): Voices {
  const loudest = v.partials.reduce((max, p) => Math.max(max, Math.abs(p.amplitude)), 0) || 1;
  return { ...v, partials: v.partials.map((p) => ({ ...p, amplitude: p.amplitude / loudest })) };
}

/** Mean power of the partials over their first half second: the "string power" of a stated signal-to-noise ratio. */
export const stringPower = (partials: readonly Partial[]): number => partialsPower(partials, 0.5);
