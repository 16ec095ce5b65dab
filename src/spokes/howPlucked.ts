import type { How } from '../contract.ts';
import type { Round, Side } from './wheel.ts';

/**
 * How each side of a round was plucked, for the statement of method: every way that its plucks record, the commonest first. Sides without a
 * pluck have none.
 *
 * @param sides Of the places, in order.
 */
export function howPlucked(round: Round, sides: readonly Side[]): Readonly<Record<Side, readonly How[]>> {
  const ways: Record<Side, Map<string, { how: How; count: number }>> = { left: new Map(), right: new Map() };
  for (const pluck of round.plucks) {
    const side = sides[pluck.spoke - 1];
    if (side === undefined || pluck.putAside) continue;
    const { crossing, direction } = pluck.how;
    const key = `${crossing} ${direction}`;
    const known = ways[side].get(key);
    if (known) known.count++;
    else ways[side].set(key, { how: { crossing, direction }, count: 1 });
  }
  const listed = (side: Side) => [...ways[side].values()].toSorted((a, b) => b.count - a.count).map(({ how }) => how);
  return { left: listed('left'), right: listed('right') };
}
