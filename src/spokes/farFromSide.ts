import { median } from './median.ts';
import type { Side } from './wheel.ts';

/** Tensions of one side differ by less, unless a spoke is slack; newtons and kgf differ by ten, kgf and lbf only by two. `common practice` */
const FACTOR = 4;
/** Of fewer, none is the odd one. */
const FEWEST = 3;

export interface FarReading {
  readonly spoke: number;
  readonly value: number;
  /** The median of its side. */
  readonly middle: number;
}

/** Readings so far from their side's middle that another unit, a lost point or a slack spoke is likelier than chance. */
export function farFromSide(
  readings: readonly { readonly spoke: number; readonly values: readonly number[] }[],
  sides: readonly Side[],
): readonly FarReading[] {
  return (['left', 'right'] as const).flatMap((side) => {
    const own = readings
      .filter(({ spoke }) => sides[spoke - 1] === side)
      .flatMap(({ spoke, values }) => values.map((value) => ({ spoke, value })));
    if (own.length < FEWEST) return [];
    const middle = median(own.map(({ value }) => value));
    return own
      .filter(({ value }) => value > FACTOR * middle || FACTOR * value < middle)
      .map((one) => ({ ...one, middle }));
  });
}
