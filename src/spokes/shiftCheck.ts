import { comparePlucks } from './plucksAgree.ts';
import { walkOrder } from './walkOrder.ts';
import { closingOf, settlingOf, type Walk } from './walkRound.ts';
import type { Pluck, Side } from './wheel.ts';

/** A reason to doubt that every reading stands in its own place. Told, never acted on. */
export type ShiftWarning =
  /** The first spoke sounded otherwise at the end: places slipped, or the wheel changed. */
  | { readonly kind: 'closingDiffers'; readonly spoke: number; readonly driftPercent?: number }
  /** All is heard but the first spoke was not heard once more. */
  | { readonly kind: 'closingMissing'; readonly spoke: number }
  /** A pluck put down to this spoke sounds like the one before: one too many there, or this one was passed over. */
  | { readonly kind: 'extraBefore'; readonly spoke: number }
  /** A pluck put down to this spoke sounds like the next: a pluck was missed here, and the hand went on. */
  | { readonly kind: 'soundsLikeNext'; readonly spoke: number }
  /** Two kinds of pluck at this spoke and no neighbour explains it. */
  | { readonly kind: 'twoTones'; readonly spoke: number }
  /** From this spoke on the sides have each other's tones. */
  | { readonly kind: 'sidesTradePlaces'; readonly from: number };

/**
 * Looks for signs that an extra or a missed pluck moved the places of a round.
 *
 * What pitch can and cannot tell: an extra pluck disagrees with the next spoke's own and is passed over, and a missed one leaves two
 * tones on one spoke, as long as neighbours differ by more than two plucks do (1.1 % of tension). Between neighbours that
 * even, a slip leaves no trace until the round closes on its first spoke, or until the order of the sides betrays it. So this only ever warns.
 */
export function shiftCheck(walk: Pick<Walk, 'round' | 'sides'>): readonly ShiftWarning[] {
  const order = walkOrder(walk.round, walk.sides);
  const settlings = order.map((spoke) => settlingOf(walk, spoke));
  const warnings: ShiftWarning[] = [];
  for (const [i, settling] of settlings.entries()) {
    const spoke = order[i] ?? 0;
    const next = settlings[i + 1]?.agreeing ?? [];
    const unexplained = settling.dissenting.filter((pluck) => !settling.likePrevious.includes(pluck));
    if (settling.likePrevious.length > 0) warnings.push({ kind: 'extraBefore', spoke });
    const likeNext = (pluck: Pluck) => next.some((other) => comparePlucks(pluck, other).agree);
    if (unexplained.some(likeNext)) warnings.push({ kind: 'soundsLikeNext', spoke });
    else if (
      unexplained.length > 0 &&
      settling.state === 'settled' &&
      unexplained.length >= settling.agreeing.length - 1
    )
      warnings.push({ kind: 'twoTones', spoke });
  }
  const from = sidesTradePlaces(
    order.map((spoke, i) => ({
      spoke,
      side: walk.sides[spoke - 1] ?? 'left',
      lnHz: lnFirstTone(settlings[i]?.agreeing ?? []),
    })),
  );
  if (from !== undefined) warnings.push({ kind: 'sidesTradePlaces', from });

  const [first] = order.filter((_, i) => settlings[i]?.state === 'settled');
  const allHeard = order.every((spoke, i) => settlings[i]?.state === 'settled' || walk.round.skipped.includes(spoke));
  const closing = closingOf(walk);
  if (first !== undefined && closing !== undefined && !closing.agree)
    warnings.push({
      kind: 'closingDiffers',
      spoke: first,
      ...(closing.comparable ? { driftPercent: 100 * Math.expm1(closing.lnRatio) } : {}),
    });
  if (first !== undefined && closing === undefined && allHeard) warnings.push({ kind: 'closingMissing', spoke: first });
  return warnings;
}

/** The lowest tone that is within 20 dB of the loudest, as a mean over the agreeing plucks. */
function lnFirstTone(plucks: readonly Pluck[]): number | undefined {
  const lowest = plucks.flatMap((pluck) => {
    const loudest = Math.max(...pluck.tones.map((tone) => tone.levelDb));
    const tone = pluck.tones.find((one) => one.levelDb >= loudest - 20);
    return tone ? [Math.log(tone.frequencyHz)] : [];
  });
  return lowest.length === 0 ? undefined : lowest.reduce((sum, value) => sum + value, 0) / lowest.length;
}

/** Spokes a side before and after the change, at least; fewer prove nothing. */
const LEAST_RUN = 3;
/** The sides' means must lie apart by this many of their own scatters. */
const CLEAR_SCATTERS = 4;

/**
 * The place from which left spokes sound as right ones did and the other way round.
 *
 * Of every place the split is taken at which both sides' tones, sorted by side before it and by the opposite side after it, scatter least; it
 * counts if each side then scatters a quarter of their distance or less, and unsplit they do not.
 */
function sidesTradePlaces(
  heard: readonly { readonly spoke: number; readonly side: Side; readonly lnHz: number | undefined }[],
): number | undefined {
  const known = heard.flatMap((one) => (one.lnHz === undefined ? [] : [{ ...one, lnHz: one.lnHz }]));
  const scatter = (split: number) => {
    const groups: [number[], number[]] = [[], []];
    for (const [i, one] of known.entries()) groups[(one.side === 'left') === i < split ? 0 : 1].push(one.lnHz);
    const [a, b] = groups.map((values) => {
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      return { mean, squares: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) };
    }) as [{ mean: number; squares: number }, { mean: number; squares: number }];
    const sd = Math.sqrt((a.squares + b.squares) / Math.max(1, known.length - 2));
    return { sd, apart: Math.abs(a.mean - b.mean) };
  };
  let best: { split: number; sd: number; apart: number } | undefined;
  for (let split = 2 * LEAST_RUN; split <= known.length - 2 * LEAST_RUN; split++) {
    const one = scatter(split);
    if (best === undefined || one.sd < best.sd) best = { split, ...one };
  }
  if (best === undefined || !(best.apart > CLEAR_SCATTERS * best.sd)) return undefined;
  const unsplit = scatter(known.length);
  return best.sd < unsplit.sd / 2 ? known[best.split]?.spoke : undefined;
}
