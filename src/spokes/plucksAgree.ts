import type { Pluck } from './wheel.ts';

/**
 * Two plucks of one spoke may differ by this share of frequency: 1.1 % of tension, half of what a very even side shows (2 %,
 * `common practice`). Beyond it something changed: the spoke, the hold, or the string that was heard.
 */
export const PLUCK_REPEATS_RELATIVE = 0.005;
/** Farther apart than this, two tones are not the same partial of a spoke plucked twice. */
export const SAME_PARTIAL_RELATIVE = 0.03;
/** Fainter than this below the loudest tone, a tone may be a neighbour's. */
const LOUD_DB = 20;
/** Coverage of the ear's own uncertainty. */
const COVERAGE = 2;

export type PluckComparison =
  | {
      readonly comparable: true;
      readonly agree: boolean;
      /** ln(second / first) of frequency over the tones that both have, weighted by their certainty. */
      readonly lnRatio: number;
      readonly tolerance: number;
    }
  /** No loud tone of one is near a tone of the other. */
  | { readonly comparable: false; readonly agree: false };

/**
 * Whether two plucks can be of one spoke, from their tones alone.
 *
 * Tones that both have are paired, each with its nearest; their common ratio of frequency must be one within the repeatability of a
 * pluck and twice the ear's uncertainty. The spoke's ends, mass and length are the same in both, so tensions need not be compared:
 * their uncertainty would only hide a slip.
 *
 * @param second A pluck heard after `first`; the ratio is second over first.
 */
export function comparePlucks(first: Pick<Pluck, 'tones'>, second: Pick<Pluck, 'tones'>): PluckComparison {
  const known = remembered.get(first.tones) ?? new WeakMap<Pluck['tones'], PluckComparison>();
  remembered.set(first.tones, known);
  const comparison = known.get(second.tones) ?? compareTones(first, second);
  known.set(second.tones, comparison);
  return comparison;
}

/** A walk asks for the same pairs at every step. */
const remembered = new WeakMap<Pluck['tones'], WeakMap<Pluck['tones'], PluckComparison>>();

function compareTones(first: Pick<Pluck, 'tones'>, second: Pick<Pluck, 'tones'>): PluckComparison {
  const loudest = (tones: Pluck['tones']) => Math.max(...tones.map((tone) => tone.levelDb));
  const loudFirst = loudest(first.tones) - LOUD_DB;
  const loudSecond = loudest(second.tones) - LOUD_DB;
  let weights = 0;
  let sum = 0;
  for (const tone of first.tones) {
    const mate = nearest(second.tones, tone.frequencyHz);
    if (mate === undefined || nearest(first.tones, mate.frequencyHz) !== tone) continue;
    const ratio = Math.log(mate.frequencyHz / tone.frequencyHz);
    if (Math.abs(ratio) > SAME_PARTIAL_RELATIVE) continue;
    if (tone.levelDb < loudFirst || mate.levelDb < loudSecond) continue;
    const variance =
      (tone.uHz / tone.frequencyHz) ** 2 + (mate.uHz / mate.frequencyHz) ** 2 + PLUCK_REPEATS_RELATIVE ** 2 / 4;
    weights += 1 / variance;
    sum += ratio / variance;
  }
  if (weights === 0) return { comparable: false, agree: false };
  const lnRatio = sum / weights;
  const uEar = Math.sqrt(Math.max(0, 1 / weights));
  const tolerance = Math.hypot(PLUCK_REPEATS_RELATIVE, COVERAGE * Math.min(uEar, PLUCK_REPEATS_RELATIVE));
  return { comparable: true, agree: Math.abs(lnRatio) <= tolerance, lnRatio, tolerance };
}

/** Ratio of two frequencies, the higher over the lower: orders as |ln| does, at a fraction of its cost. */
const apart = (a: number, b: number): number => (a > b ? a / b : b / a);

/** The tone nearest in ratio, however far. */
export function nearest(tones: Pluck['tones'], frequencyHz: number): Pluck['tones'][number] | undefined {
  let best: Pluck['tones'][number] | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const tone of tones) {
    const distance = apart(tone.frequencyHz, frequencyHz);
    if (distance >= least) continue;
    least = distance;
    best = tone;
  }
  return best;
}
