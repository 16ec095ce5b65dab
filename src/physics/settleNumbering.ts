import type { MeasureRefusal, Reading } from '../contract.ts';
import type { FittedSpoke } from './fitLine.ts';
import type { HeardTone } from './heardTones.ts';
import { lnFrequencyAt, middleOf } from './lineAt.ts';
import { type ReadingParts, readingOf } from './readingOf.ts';
import type { SpokeTones } from './spokeTones.ts';
import type { ToneTable } from './toneTable.ts';
import type { Weighed } from './weighNumberings.ts';

export const LOWEST_TENSION = 20;
export const HIGHEST_TENSION = 3000;
/** Rivals nearer than this are the same answer. */
const APART = 0.12;
/** More posterior weight than this on rivals far away: no answer. */
const AMBIGUOUS = 0.15;
/** Less posterior weight than this on rivals far away lies outside an interval of 95 %, one half of what that leaves. */
const LEFT_OUT = 0.025;
/** The interval that is shown reaches so many standard uncertainties. */
const EXPANDED = 2;
/** Below this weight a rival is not worth widening the interval. */
const NEGLIGIBLE = 0.003;
/** The fit must explain the tones better than chance by this much, ln evidence, unless it leaves none: a lone tone contradicts nothing. */
const BETTER_THAN_CHANCE = -2;
/** Misfit rarer than this is a contradiction. */
const CONTRADICTION = 1e-6;

/** What a fit says of one spoke. */
export type JointPart = Pick<
  ReadingParts,
  'fitted' | 'fitSpoke' | 'node' | 'lnTAtNode' | 'chi2' | 'degreesOfFreedom'
> & {
  /** A side of several spokes reads nearly the same tension. */
  readonly bornOut: boolean;
};

/**
 * Decides among weighed numberings: a reading with its rivals mixed in, or a refusal with its reason.
 * @param joint the spoke's part of a fit of its whole group with the best numbering, which then takes the place of its own fit
 */
export const settleNumbering = (
  spoke: SpokeTones,
  tones: readonly HeardTone[],
  weighed: readonly Weighed[],
  joint?: JointPart,
): Reading | MeasureRefusal => {
  const best = weighed[0];
  const fitted = best?.fit.fitted;
  if (best === undefined || fitted === undefined) return outside(spoke, tones);
  const { lnT } = fitted;
  const weights = weighed.map((w) => Math.exp(w.lnEvidence - best.lnEvidence));
  const total = weights.reduce((a, b) => a + b, 0);
  let far = 0;
  let first = 0;
  let second = 0;
  let apart = 0;
  let pair = 0;
  weighed.forEach((w, i) => {
    const share = (weights[i] as number) / total;
    const d = w.fit.fitted.lnT - lnT;
    if (w.numbering.comb.family === 'pair') pair += share;
    if (isFar(w, fitted)) {
      far += share;
      apart += share * d * d;
      return;
    }
    if (share < NEGLIGIBLE) return;
    const extra = Math.max(w.fit.fitted.varOwn + w.fit.fitted.varCommon - fitted.varOwn - fitted.varCommon, 0);
    first += share * d;
    second += share * (d * d + extra);
  });
  // Another answer altogether does not move this one; it widens it where an interval of 95 % would not leave it out.
  if (far > LEFT_OUT) second += apart;
  const explained = loudExplained(spoke, best, tones, joint !== undefined);
  const leaves = best.numbering.modes.some((mode) => mode === 0);
  if ((leaves && best.lnEvidence < BETTER_THAN_CHANCE) || explained === 'none') return outside(spoke, tones);
  if (pair > 0.5) return { ok: false, reason: 'pairOnly', detail: `${Math.exp(lnT).toFixed(0)} N mean of the pair` };
  if (far > AMBIGUOUS) return ambiguous(weighed, fitted);
  const own: JointPart = {
    fitted,
    fitSpoke: best.spoke,
    node: best.fit.best.node,
    lnTAtNode: best.fit.best.lnT,
    chi2: best.fit.best.chi2,
    degreesOfFreedom: best.fit.degreesOfFreedom,
    bornOut: false,
  };
  const doubt = joint?.bornOut ? 0 : doubtOf(spoke);
  const reading = readingOf({
    spoke,
    tones,
    numbering: best.numbering,
    ...(joint ?? own),
    rivals: { shift: first, variance: Math.max(second - first * first, 0) + doubt },
  });
  // An interval that would take in a slack spoke says nothing but that a rival stands.
  if (far > LEFT_OUT && EXPANDED * Math.hypot(reading.uOwnN, reading.uCommonN) > reading.tensionN)
    return ambiguous(weighed, fitted);
  if (reading.agreement < CONTRADICTION || explained === 'few')
    return { ok: false, reason: 'tonesContradictMember', detail: detailOf(reading) };
  if (reading.tensionN < LOWEST_TENSION || reading.tensionN > HIGHEST_TENSION)
    return { ok: false, reason: 'outOfRange', detail: `${reading.tensionN.toFixed(0)} N` };
  return doubt > 0 ? { ...reading, doubted: true } : reading;
};

const ambiguous = (weighed: readonly Weighed[], fitted: FittedSpoke): MeasureRefusal => {
  const rival = weighed.find((w) => isFar(w, fitted));
  const here = Math.exp(fitted.lnT).toFixed(0);
  const there = Math.exp(rival?.fit.fitted.lnT ?? fitted.lnT).toFixed(0);
  return { ok: false, reason: 'numberingAmbiguous', detail: `${here} N or ${there} N` };
};

/** One in fifty of the sounds that the ear doubts is no spoke; then the tension is anywhere within a factor of two (ln 0.7): 0.02 · 0.7². */
const DOUBT = 0.0098;

/** Variance of ln T for the chance that none of the sounds was this spoke; no chance sound would ring like the rest of its side. */
const doubtOf = (spoke: SpokeTones): number =>
  spoke.plucks.length > 0 && spoke.plucks.every((pluck) => pluck.flags.includes('perhapsNoSpoke')) ? DOUBT : 0;

/** A rival whose answer is another one: beyond `APART`, and beyond what both are unsure of anyway. */
const isFar = (rival: Weighed, fitted: FittedSpoke): boolean => {
  const other = rival.fit.fitted;
  const unsure = Math.sqrt(fitted.varOwn + fitted.varCommon + other.varOwn + other.varCommon);
  return Math.abs(other.lnT - fitted.lnT) > Math.max(APART, 1.5 * unsure);
};

/** Tones this near to the loudest must be accounted for. */
const LOUD_DB = 6;
const HIGH_HZ = 3000;
/** ln evidence of ringing below which a stranger is the finger's or the rim's, and need not be accounted for. */
const BRIEF = -1;
/** So many different modes do not fall into place by chance: loud company is then the rim's, the hand's or the other plane's. */
const CERTAIN_MODES = 4;

/**
 * Whether the loud tones are those of the spoke, in one plane or the other. A crossed spoke has loud company across the wheel, of the
 * touching pair and of the rim; an uncrossed one has not, unless its whole side agrees with it.
 */
const loudExplained = (
  spoke: SpokeTones,
  best: Weighed,
  tones: readonly HeardTone[],
  inGroup: boolean,
): 'most' | 'few' | 'none' => {
  const { comb, modes } = best.numbering;
  const crossed = spoke.prepared.described.member.crossingFromHub !== undefined;
  const other = comb.plane === 'inPlane' ? spoke.prepared.across : spoke.prepared.inPlane;
  const { pair } = spoke.prepared;
  const { node, lnT } = best.fit.best;
  let taken = 0;
  let left = 0;
  tones.forEach((tone, j) => {
    if (tone.below > LOUD_DB || tone.frequencyHz > HIGH_HZ) return;
    if ((modes[j] as number) === 0 && tone.lnRing < BRIEF) return;
    if ((modes[j] as number) > 0) {
      taken++;
      return;
    }
    const twin = tones.some(
      (o, i) => o.pluck === tone.pluck && (modes[i] as number) > 0 && Math.abs(o.lnF - tone.lnF) < 0.04,
    );
    const otherPlane = crossed
      ? pair !== undefined && rings(pair, middleOf(pair), lnT, tone.lnF, PAIR)
      : rings(other, node, lnT, tone.lnF, 0.05);
    if (!twin && !otherPlane) left++;
  });
  if (new Set(modes.filter((mode) => mode > 0)).size >= CERTAIN_MODES) return 'most';
  if (taken === 0 && left > 1) return 'none';
  const tooMany = crossed || inGroup ? left >= 3 && left > 2 * taken : left >= 2 && left >= taken;
  return tooMany ? 'few' : 'most';
};

/** An open pair across the wheel rings at the mean of two tensions: so near (ln f) to where two like this one would. */
const PAIR = 0.06;
const rings = (table: ToneTable, node: number, lnT: number, lnF: number, within: number): boolean => {
  for (let m = 0; m < table.modes; m++) if (Math.abs(lnFrequencyAt(table, node, m, lnT) - lnF) < within) return true;
  return false;
};

/** Names why nothing fits: too low, too high, or contradictory. */
const outside = (spoke: SpokeTones, tones: readonly HeardTone[]): MeasureRefusal => {
  const table = spoke.prepared.inPlane;
  const node = 0;
  const lowest = Math.exp(lnFrequencyAt(table, node, 0, table.lnTStart));
  const loudest = tones.reduce((a, b) => (b.below < a.below ? b : a), tones[0] as HeardTone);
  const highestNode = table.hub.lnK.length * table.rim.lnK.length - 1;
  const highest = Math.exp(lnFrequencyAt(table, highestNode, 0, Math.log(HIGHEST_TENSION)));
  if (tones.every((t) => t.frequencyHz < lowest))
    return {
      ok: false,
      reason: 'belowBendingTone',
      detail: `${loudest.frequencyHz.toFixed(1)} Hz, the slack member rings at ${lowest.toFixed(1)} Hz`,
    };
  if (tones.every((t) => t.frequencyHz > highest))
    return { ok: false, reason: 'outOfRange', detail: `${loudest.frequencyHz.toFixed(1)} Hz` };
  return { ok: false, reason: 'tonesContradictMember', detail: `${loudest.frequencyHz.toFixed(1)} Hz` };
};

const detailOf = (reading: Reading): string => {
  const worst = reading.assignment.reduce<{ f: number; r: number }>(
    (a, t) => (Math.abs(t.residualPercent ?? 0) > Math.abs(a.r) ? { f: t.frequencyHz, r: t.residualPercent ?? 0 } : a),
    { f: 0, r: 0 },
  );
  return worst.f === 0
    ? 'loud tones that the spoke does not have'
    : `${worst.f.toFixed(1)} Hz is ${worst.r.toFixed(2)} % from the nearest tone of the member`;
};
