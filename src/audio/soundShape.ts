/** The outline of a sound in time, without regard to its tones. */
export interface SoundShape {
  /** From the onset to the loudest 10 ms of the first 0.35 s, s. */
  readonly attackS: number;
  /** Level of the first 6 ms over that of 30–60 ms, dB: a pluck is there at once, a bowed or blown sound is not. */
  readonly startDb: number;
  /** Level of the first 30 ms over that of the 30 ms before the onset, dB. */
  readonly riseDb: number;
  /** Level at 0.2–0.3 s over that at 0.01–0.06 s, dB; −Infinity where the sound is shorter. */
  readonly sustainDb: number;
  /** The most that the level climbs again after having fallen, dB, in 20 ms steps from 30 ms on. */
  readonly swellDb: number;
  /** Largest magnitude, full scale 1. */
  readonly peak: number;
  /** Share of samples within 0.5 % of the peak, of those in the first 0.1 s. */
  readonly flatShare: number;
}

/** A peak below this is no sound. */
const SILENT = 1e-6;

/**
 * Outline of a pluck.
 * @param samples mono; @param onset index of the onset.
 */
export function soundShape(samples: Float32Array, onset: number, sampleRateHz: number): SoundShape {
  const rms = (fromS: number, toS: number): number => {
    const from = Math.max(0, onset + Math.round(fromS * sampleRateHz));
    const to = Math.min(samples.length, onset + Math.round(toS * sampleRateHz));
    if (to <= from) return 0;
    let sum = 0;
    for (let i = from; i < to; i++) sum += (samples[i] as number) ** 2;
    return Math.sqrt(sum / (to - from));
  };
  const db = (a: number, b: number) => 20 * Math.log10(Math.max(a, 1e-9) / Math.max(b, 1e-9));
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
  let lowest = Number.POSITIVE_INFINITY;
  let swellDb = 0;
  for (let t = 0.03; t < 0.5; t += 0.02) {
    const level = rms(t, t + 0.02);
    if (level === 0) break;
    lowest = Math.min(lowest, level);
    swellDb = Math.max(swellDb, db(level, lowest));
  }
  let peak = 0;
  const to = Math.min(samples.length, onset + Math.round(0.1 * sampleRateHz));
  for (let i = onset; i < to; i++) peak = Math.max(peak, Math.abs(samples[i] as number));
  let flat = 0;
  for (let i = onset; i < to; i++) if (Math.abs(samples[i] as number) >= 0.995 * peak) flat++;
  return {
    attackS,
    startDb: db(rms(0.0005, 0.006), rms(0.03, 0.06)),
    riseDb: db(rms(0.001, 0.031), rms(-0.035, -0.005)),
    sustainDb:
      onset + 0.25 * sampleRateHz < samples.length ? db(rms(0.2, 0.3), rms(0.01, 0.06)) : Number.NEGATIVE_INFINITY,
    swellDb,
    peak,
    flatShare: peak > SILENT ? flat / (to - onset) : 0,
  };
}
