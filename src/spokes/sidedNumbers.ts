import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

/** A spoke as a table calls it: by a number, and perhaps by a side. */
export interface SidedNumber {
  readonly number: number;
  readonly side: Side | undefined;
}

/** `L1`, `1 R`, `left 3`: side and number in one cell. */
export function sidedNumber(cell: string): { readonly number: number; readonly side: Side } | undefined {
  const named = /\d/.test(cell) ? sideIn(cell) : undefined;
  const [, digits] = /^[\s#:-]*(\d{1,3})$/.exec(named?.rest ?? '') ?? [];
  return named && digits ? { side: named.side, number: Number(digits) } : undefined;
}

/**
 * What numbers beside a side count: the places of the wheel all round, or the spokes of each side from 1.
 *
 * Each side for itself is meant only where the table shows it: one number stands on both sides, or a side is given whole. Otherwise `L3` may
 * come from a count all round that this wheel does not share.
 *
 * @param sides Of the wheel's spokes by place.
 * @param joined Side and number stand in one cell. Numbers in a column of their own are this wheel's places unless one stands on both sides.
 */
export function numbersCount(
  rows: readonly SidedNumber[],
  sides: readonly Side[],
  joined: boolean,
): 'places' | 'eachSide' | 'unclear' {
  const given = { left: new Set<number>(), right: new Set<number>() };
  for (const { number, side } of rows) {
    if (side === undefined || number < 1 || given[side].has(number) || number > spokesOf(side, sides).length)
      return 'places';
    given[side].add(number);
  }
  if ([...given.left].some((number) => given.right.has(number))) return 'eachSide';
  if (!joined) return 'places';
  const asPlaces = rows.every(({ number, side }) => sides[number - 1] === side);
  const whole = (['left', 'right'] as const).some((side) => given[side].size === spokesOf(side, sides).length);
  return whole && !asPlaces ? 'eachSide' : 'unclear';
}

/** Places of a side in the wheel's order. */
export const spokesOf = (side: Side, sides: readonly Side[]): readonly number[] =>
  sides.flatMap((one, i) => (one === side ? [i + 1] : []));
