import type { RefinedTone } from './tonesOfBand.ts';

/** One tone of a sound as its placing is weighed: a cluster of near tones counts once. */
export interface Line {
  readonly lnHz: number;
  /** Below the loudest, dB, as heard from 30 ms after the onset on; 0 or negative. */
  readonly levelDb: number;
}

/** Fainter than this under the loudest, a tone may be anybody's. */
const REACH_DB = 30;
const MOST = 12;
/** Two planes, a doublet, a partner's answer: one line. */
const CLUSTER = 0.03;

/** Amplitude of a tone that decays in 0.2 s with the energy that this one has from 30 ms after the onset on. */
export const heardAmplitude = (t: RefinedTone): number =>
  t.amplitude * Math.exp(-0.03 / t.decayS) * Math.sqrt(t.decayS / 0.2);

/** The loud tones of a sound, loudest first, one a cluster. */
export function loudLines(tones: readonly RefinedTone[]): Line[] {
  const all = tones
    .map((t) => ({ lnHz: Math.log(t.frequencyHz), levelDb: 20 * Math.log10(heardAmplitude(t) + 1e-12) }))
    .sort((a, b) => b.levelDb - a.levelDb);
  const top = all[0]?.levelDb ?? 0;
  const apart: Line[] = [];
  for (const l of all) {
    if (apart.length >= MOST || l.levelDb < top - REACH_DB) break;
    if (!apart.some((k) => Math.abs(k.lnHz - l.lnHz) < CLUSTER)) apart.push({ ...l, levelDb: l.levelDb - top });
  }
  return apart;
}
