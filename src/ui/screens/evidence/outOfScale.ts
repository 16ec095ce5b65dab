import { type TensionUnit, tensionFrom } from '../../../units.ts';

/** No built wheel has all its spokes below it. `common practice` */
const LEAST_N = 50;

/** Twice what breaks a round wire of 2.3 mm and 1200 N/mm², 4.2 mm² of it. `common practice` */
const MOST_N = 10_000;

/**
 * A table of tensions far below any wheel's, or beyond any spoke's strength: what has happened to it, and what to do. Undefined where nothing
 * looks so.
 */
export function outOfScale(tensions: readonly number[], unit: TensionUnit): string | undefined {
  const highest = Math.max(...tensions);
  if (tensions.length === 0) return undefined;
  if (tensionFrom(highest, unit) > MOST_N)
    return `The highest of these tensions is ${highest} ${unit}, more than any spoke bears. If repeats are divided by blanks, divide them by semicolons; if the unit is another, choose it.`;
  if (tensionFrom(highest, unit) >= LEAST_N) return undefined;
  return `The highest of these tensions is ${highest} ${unit}, far below any built wheel’s. If thousands are written with a point, write them without; if the unit is another, choose it.`;
}
