import { scratch } from './scratch.ts';

/** The outline of a sound in time, without regard to its tones. */
export interface SoundShape {
  /** From the onset to the loudest 10 ms of the first 0.35 s, s. */
  readonly attackS: number;
  /** Level of the first 6 ms from the touch on over that of 30–60 ms, dB: a pluck is there at once, a bowed or blown sound is not. */
  readonly startDb: number;
  /** The same above 3 kHz for the first 2 ms: the click of a release. Undefined where the room hisses as loudly. */
  readonly clickDb?: number;
  /** Level of the first 30 ms over that of the 30 ms before the onset, dB. */
  readonly riseDb: number;
  /** Level at 0.2–0.3 s over that at 0.01–0.06 s, dB; −Infinity where the sound is shorter. */
  readonly sustainDb: number;
  /** The most that the level climbs again after having fallen, dB, in 20 ms steps from 30 ms on. */
  readonly swellDb: number;
  /** Where the sound stops faster than anything rings out: how fast it fell until then, dB/s. Undefined where it does not stop. */
  readonly fallBeforeStop?: number;
  /** Largest magnitude, full scale 1. */
  readonly peak: number;
  /** Share of samples within 0.5 % of the peak, of those in the first 0.1 s. */
  readonly flatShare: number;
}

/** A peak below this is no sound. */
const SILENT = 1e-6;
/** The touch: the first 2 ms that come so near to the loudest of the first 80 ms. A gate that opens or a rustle may be the onset. */
const NEAR_LOUDEST_DB = 12;
const TOUCH_WITHIN_S = 0.06;
/** Sound above this is the click, and what it leaves is gone in 30 ms. */
const CLICK_ABOVE_HZ = 3000;
/** A click less than this above the hiss before tells nothing. */
const OVER_HISS_DB = 3;
/** A fall by so much in 20 ms: a decay time of 17 ms, quality 20 at 400 Hz. */
const STOP_DB = 10;

const db = (a: number, b: number) => 20 * Math.log10(Math.max(a, 1e-9) / Math.max(b, 1e-9));

/** Energy of all samples before each, in the scratch array of that name. */
function energyBefore(samples: Float32Array, name: string): Float64Array {
  const energy = scratch(name, samples.length + 1);
  energy[0] = 0;
  let sum = 0;
  for (let i = 0; i < samples.length; i++) {
    sum += (samples[i] as number) ** 2;
    energy[i + 1] = sum;
  }
  return energy;
}

/** Root mean square of the samples of an energy curve around `zero`, times in s. */
const levels =
  (energy: Float64Array, zero: number, sampleRateHz: number): Level =>
  (fromS, toS) => {
    const from = Math.max(0, zero + Math.round(fromS * sampleRateHz));
    const to = Math.min(energy.length - 1, zero + Math.round(toS * sampleRateHz));
    if (to <= from) return 0;
    return Math.sqrt(((energy[to] as number) - (energy[from] as number)) / (to - from));
  };
type Level = (fromS: number, toS: number) => number;

/**
 * Outline of a pluck.
 * @param samples mono; @param onset index of the onset.
 */
export function soundShape(samples: Float32Array, onset: number, sampleRateHz: number): SoundShape {
  const energy = energyBefore(samples, 'energy');
  const rms = levels(energy, onset, sampleRateHz);
  let most = 0;
  let attackS = 0;
  for (let t = 0; t < 0.35; t += 0.01) {
    const level = rms(t, t + 0.01);
    // A beat may bring a later moment slightly over the first: only a clear rise is a slow attack.
    if (level > (most === 0 ? 0 : 1.12 * most)) {
      most = level;
      attackS = t;
    }
  }
  let peak = 0;
  const to = Math.min(samples.length, onset + Math.round(0.1 * sampleRateHz));
  for (let i = onset; i < to; i++) peak = Math.max(peak, Math.abs(samples[i] as number));
  let flat = 0;
  for (let i = onset; i < to; i++) if (Math.abs(samples[i] as number) >= 0.995 * peak) flat++;
  const touch = onset + Math.round(touchAfter(rms) * sampleRateHz);
  const fromTouch = levels(energy, touch, sampleRateHz);
  const clickDb = clickOf(samples, touch, sampleRateHz);
  const fall = fallBeforeStop(rms);
  return {
    attackS,
    startDb: db(fromTouch(0.0005, 0.006), fromTouch(0.03, 0.06)),
    ...(clickDb === undefined ? {} : { clickDb }),
    riseDb: db(rms(0.001, 0.031), rms(-0.035, -0.005)),
    sustainDb:
      onset + 0.25 * sampleRateHz < samples.length ? db(rms(0.2, 0.3), rms(0.01, 0.06)) : Number.NEGATIVE_INFINITY,
    swellDb: swellOf(rms),
    ...(fall === undefined ? {} : { fallBeforeStop: fall }),
    peak,
    flatShare: peak > SILENT ? flat / (to - onset) : 0,
  };
}

function touchAfter(rms: Level): number {
  let loudest = 0;
  for (let t = 0; t < 0.08; t += 0.002) loudest = Math.max(loudest, rms(t, t + 0.002));
  for (let t = 0; t < TOUCH_WITHIN_S; t += 0.001) if (db(rms(t, t + 0.002), loudest) > -NEAR_LOUDEST_DB) return t;
  return 0;
}

function clickOf(samples: Float32Array, touch: number, sampleRateHz: number): number | undefined {
  const from = Math.max(0, touch - Math.round(0.035 * sampleRateHz));
  const part = samples.slice(from, touch + Math.round(0.065 * sampleRateHz));
  const follow = 1 - Math.exp((-2 * Math.PI * CLICK_ABOVE_HZ) / sampleRateHz);
  let low = 0;
  let lower = 0;
  for (let i = 0; i < part.length; i++) {
    const v = part[i] as number;
    low += follow * (v - low);
    lower += follow * (v - low - lower);
    part[i] = v - low - lower;
  }
  const high = levels(energyBefore(part, 'energy of the click'), touch - from, sampleRateHz);
  const start = high(0, 0.002);
  const later = high(0.03, 0.06);
  return db(Math.max(start, later), high(-0.03, -0.005)) < OVER_HISS_DB ? undefined : db(start, later);
}

function swellOf(rms: Level): number {
  let lowest = Number.POSITIVE_INFINITY;
  let swellDb = 0;
  for (let t = 0.03; t < 0.5; t += 0.02) {
    const level = rms(t, t + 0.02);
    if (level === 0) break;
    lowest = Math.min(lowest, level);
    swellDb = Math.max(swellDb, db(level, lowest));
  }
  return swellDb;
}

function fallBeforeStop(rms: Level): number | undefined {
  const first = rms(0.01, 0.02);
  for (let t = 0.04; t < 0.55; t += 0.01) {
    // A beat's node is as steep, but comes back.
    const after = rms(t + 0.02, t + 0.12);
    if (after === 0) return undefined;
    const here = rms(t, t + 0.01);
    if (db(here, after) > STOP_DB) return db(first, rms(t - 0.01, t)) / Math.max(0.02, t - 0.02);
  }
  return undefined;
}
