import { comparePlucks } from './plucksAgree.ts';
import type { Settling } from './settle.ts';
import { sidesTradePlaces } from './sidesTradePlaces.ts';
import { walkOrder } from './walkOrder.ts';
import { closingOf, plucksOf, settlingOf, type Walk } from './walkRound.ts';
import type { Pluck } from './wheel.ts';

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
  /** From this spoke on, to the other where it is given, the sides have each other's tones. */
  | { readonly kind: 'sidesTradePlaces'; readonly from: number; readonly to?: number }
  /** The last spoke of the walk sounds like the first: one may have been passed over, and the first was heard in the last one's place. */
  | { readonly kind: 'lastSoundsLikeFirst'; readonly spoke: number; readonly first: number }
  /** Every spoke sounds like the first, so that the last does says nothing: a slip would not show, and would hardly change a reading. */
  | { readonly kind: 'allAlike' }
  /** Settled by one pluck each, these sound like the spoke before: an extra pluck there would look the same. */
  | { readonly kind: 'alikeByOnePluck'; readonly spokes: readonly number[] };

/**
 * Looks for signs that an extra or a missed pluck moved the places of a round.
 *
 * What pitch can and cannot tell: an extra pluck disagrees with the next spoke's own and is passed over, and a missed one leaves two
 * tones on one spoke, as long as neighbours differ by more than two plucks do (1.1 % of tension); between neighbours that
 * even, what is credited wrongly is wrong by less than that. A spoke passed over moves all after it without a trace, until the sides' order
 * betrays it, or until the hand comes to the first spoke while the last is still wanted: then the two sound alike. On an even wheel
 * they may do so by themselves. So this only ever warns.
 */
export function shiftCheck(walk: Pick<Walk, 'round' | 'sides'>): readonly ShiftWarning[] {
  const order = walkOrder(walk.round, walk.sides);
  const settlings = order.map((spoke) => settlingOf(walk, spoke));
  const warnings: ShiftWarning[] = [];
  for (const [i, settling] of settlings.entries()) {
    const spoke = order[i] ?? 0;
    const next = settlings[i + 1]?.agreeing ?? [];
    const unexplained = settling.dissenting.filter((pluck) => !settling.likePrevious.includes(pluck));
    const [firstHeard] = plucksOf(walk.round, spoke);
    if (settling.likePrevious.length > 0) warnings.push({ kind: 'extraBefore', spoke });
    const likeNext = (pluck: Pluck) => next.some((other) => comparePlucks(pluck, other).agree);
    if (unexplained.some(likeNext)) warnings.push({ kind: 'soundsLikeNext', spoke });
    else if (
      unexplained.length > 0 &&
      settling.state === 'settled' &&
      // An odd pluck among several is a bad one; an odd first one may have been this spoke's only one.
      (unexplained.length >= settling.agreeing.length - 1 || unexplained.some((pluck) => pluck === firstHeard))
    )
      warnings.push({ kind: 'twoTones', spoke });
  }
  const traded = sidesTradePlaces(
    order.map((spoke, i) => ({
      spoke,
      side: walk.sides[spoke - 1] ?? 'left',
      plucks: settlings[i]?.state === 'settled' ? settlings[i].agreeing : [],
    })),
  );
  if (traded !== undefined) warnings.push({ kind: 'sidesTradePlaces', ...traded });
  if (walk.round.plucksToSettle === 1) {
    const spokes = order.filter((_, i) => alike(settlings[i - 1], settlings[i]));
    if (spokes.length > 0) warnings.push({ kind: 'alikeByOnePluck', spokes });
  }

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
  const last = order.at(-1);
  const firstSettling = settlings.find(({ state }) => state === 'settled');
  const allAlike = settlings.every((one) => one.state !== 'settled' || alike(firstSettling, one));
  if (
    first !== undefined &&
    last !== undefined &&
    first !== last &&
    alike(firstSettling, settlings.at(-1)) &&
    !heardAgain(walk.round.plucks, last)
  )
    warnings.push(allAlike ? { kind: 'allAlike' } : { kind: 'lastSoundsLikeFirst', spoke: last, first });
  return warnings;
}

const alike = (a: Settling | undefined, b: Settling | undefined): boolean =>
  a?.state === 'settled' &&
  b?.state === 'settled' &&
  a.agreeing.some((one) => b.agreeing.some((other) => comparePlucks(one, other).agree));

/** Gone back to after the round was closed, on purpose. */
function heardAgain(plucks: readonly Pluck[], spoke: number): boolean {
  const closed = plucks.findIndex((pluck) => pluck.closing && !pluck.putAside);
  return (
    closed >= 0 && plucks.slice(closed).some((pluck) => pluck.spoke === spoke && !pluck.closing && !pluck.putAside)
  );
}
