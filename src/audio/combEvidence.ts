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

/** Teeth as they are laid over the lines: all moved by `shift`, and none from `top` on. */
export interface Laid {
  readonly shift: number;
  readonly top: number;
}
const UNMOVED: Laid = { shift: 0, top: Number.POSITIVE_INFINITY };

/**
 * ln of how much likelier these teeth make the lines than lines anywhere: a mixture of the teeth's normal densities with tones
 * that are not the body's, over an even density. Low tones that are missing under a loud higher one cost `missing` nats each.
 * @source Jaynes 2003, Probability Theory, ch. 4 (evidence in nats)
 */
export function combEvidence(
  lines: readonly Line[],
  teeth: readonly Tooth[],
  missing: number,
  { shift, top }: Laid = UNMOVED,
): number {
  let weights = 0;
  for (const t of teeth) if (t.lnHz + shift < top) weights += t.weight;
  let sum = 0;
  let loudRank = 0;
  for (const l of lines) {
    let density = 0;
    for (const t of teeth) {
      const off = Math.abs(l.lnHz - t.lnHz - shift);
      if (off > 4 * t.u || t.lnHz + shift >= top) continue;
      const d = off / t.u;
      density += (t.weight / t.u) * Math.exp(-0.5 * d * d);
      if (d < 2.5 && l.levelDb > LOUD_DB) loudRank = Math.max(loudRank, t.rank);
    }
    const foreign = FOREIGN_LOUD + (FOREIGN_FAINT - FOREIGN_LOUD) * Math.min(1, -l.levelDb / 30);
    sum += Math.log(foreign + ((1 - foreign) * density * LN_RANGE) / (weights * ROOT_2PI));
  }
  const expected = Math.min(LAST_EXPECTED, loudRank);
  for (const t of teeth)
    if (t.rank > 0 && t.rank < expected && t.lnHz + shift < top && !lines.some((l) => isNear(l, t, shift)))
      sum -= missing;
  return sum;
}

/** Further shift of the teeth that fits the lines near them best, weighted with loudness and sharpness. */
export function combShift(lines: readonly Line[], teeth: readonly Tooth[], { shift, top }: Laid = UNMOVED): number {
  let over = 0;
  let under = 0;
  for (const l of lines)
    for (const t of teeth)
      if (t.rank > 0 && isNear(l, t, shift) && t.lnHz + shift < top) {
        const w = Math.exp(l.levelDb * PER_DB) / (t.u * t.u);
        over += w * (l.lnHz - t.lnHz - shift);
        under += w;
      }
  return under > 0 ? over / under : 0;
}

const ROOT_2PI = Math.sqrt(2 * Math.PI);
const PER_DB = Math.LN10 / 20;
const isNear = (l: Line, t: Tooth, shift: number): boolean => Math.abs(l.lnHz - t.lnHz - shift) < 3 * t.u;
