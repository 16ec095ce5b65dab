import type { Line } from './loudLines.ts';

/** Where one tone of a sounding body may lie. */
export interface Tooth {
  readonly lnHz: number;
  /** Standard uncertainty of ln frequency. */
  readonly u: number;
  /** Share of the body's tones, relative to the other teeth. */
  readonly weight: number;
  /** Number in the row of the body's own tones, from 1; 0: of another family, may be missing. */
  readonly rank: number;
}

/** ln of the range in which a tone of anything may lie: 100 Hz to 8 kHz. */
const LN_RANGE = Math.log(80);
/** Chance that a line is not the body's: the loudest, and one 30 dB fainter. */
const FOREIGN_LOUD = 0.2;
const FOREIGN_FAINT = 0.5;
/** A line this loud makes the lower tones of its row expected. */
const LOUD_DB = -12;
const LAST_EXPECTED = 4;

/**
 * ln of how much likelier these teeth make the lines than lines anywhere: a mixture of the teeth's normal densities with tones
 * that are not the body's, over an even density. Low tones that are missing under a loud higher one cost `missing` nats each.
 * @source Jaynes 2003, Probability Theory, ch. 4 (evidence in nats)
 */
export function combEvidence(lines: readonly Line[], teeth: readonly Tooth[], missing: number): number {
  let weights = 0;
  for (const t of teeth) weights += t.weight;
  let sum = 0;
  let loudRank = 0;
  for (const l of lines) {
    let density = 0;
    for (const t of teeth) {
      const off = Math.abs(l.lnHz - t.lnHz);
      if (off > 4 * t.u) continue;
      const d = off / t.u;
      density += (t.weight / t.u) * Math.exp(-0.5 * d * d);
      if (d < 2.5 && l.levelDb > LOUD_DB) loudRank = Math.max(loudRank, t.rank);
    }
    const foreign = FOREIGN_LOUD + (FOREIGN_FAINT - FOREIGN_LOUD) * Math.min(1, -l.levelDb / 30);
    sum += Math.log(foreign + ((1 - foreign) * density * LN_RANGE) / (weights * Math.sqrt(2 * Math.PI)));
  }
  for (const t of teeth)
    if (t.rank > 0 && t.rank < Math.min(LAST_EXPECTED, loudRank) && !lines.some((l) => isNear(l, t))) sum -= missing;
  return sum;
}

/** Shift of the teeth that fits the lines near them best, weighted with loudness and sharpness. */
export function combShift(lines: readonly Line[], teeth: readonly Tooth[]): number {
  let top = 0;
  let bottom = 0;
  for (const l of lines)
    for (const t of teeth)
      if (t.rank > 0 && isNear(l, t)) {
        const w = 10 ** (l.levelDb / 20) / (t.u * t.u);
        top += w * (l.lnHz - t.lnHz);
        bottom += w;
      }
  return bottom > 0 ? top / bottom : 0;
}

const isNear = (l: Line, t: Tooth): boolean => Math.abs(l.lnHz - t.lnHz) < 3 * t.u;
