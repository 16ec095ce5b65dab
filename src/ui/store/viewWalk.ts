import type { How } from '../../contract.ts';
import { walkOrder } from '../../spokes/walkOrder.ts';
import { allSettlings, closingOf, settlingOf, type Walk, walkRound } from '../../spokes/walkRound.ts';
import type { ClosingResult, LastPluck, LiveRound } from './appState.ts';

/** The walk as the screens see it: everything read off, nothing kept twice. */
export function viewWalk(wheelId: string, walk: Walk, last: LastPluck | undefined, how: How): LiveRound {
  const settlings = allSettlings(walk);
  return {
    wheelId,
    round: walk.round,
    phase: walk.phase,
    spoke: walk.spoke,
    side: walk.sides[walk.spoke - 1] ?? 'left',
    how,
    sides: walk.sides,
    nextSpoke: nextOf(walk),
    agreeing: settlingOf(walk, walk.spoke).agreeing.length,
    plucksToSettle: walk.round.plucksToSettle,
    settled: settlings.flatMap((settling, index) => (settling.state === 'settled' ? [index + 1] : [])),
    skipped: walk.round.skipped,
    spokeCount: walk.sides.length,
    last,
    closing: closingResult(walk),
  };
}

/** The walk behind the view. */
export const walkOf = (live: LiveRound): Walk => ({
  round: live.round,
  sides: live.sides,
  phase: live.phase,
  spoke: live.spoke,
});

/** Where the walk would go if this spoke were passed over now. */
function nextOf(walk: Walk): number | undefined {
  if (walk.phase === 'closing' || walk.phase === 'finished' || walk.round.order === 'free') return undefined;
  const { walk: after } = walkRound(walk, { kind: 'skip' });
  return after.phase === 'finished' || after.spoke === walk.spoke ? undefined : after.spoke;
}

function closingResult(walk: Walk): ClosingResult | undefined {
  const comparison = closingOf(walk);
  if (!comparison) return undefined;
  return {
    agrees: comparison.agree,
    driftPercent: comparison.comparable ? 100 * Math.expm1(comparison.lnRatio) : undefined,
  };
}

/** The first place of a round. */
export const firstPlace = (walk: Pick<Walk, 'round' | 'sides'>): number => walkOrder(walk.round, walk.sides)[0] ?? 1;
