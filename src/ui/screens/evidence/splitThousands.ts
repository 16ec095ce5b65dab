import { type TensionUnit, tensionFrom } from '../../../units.ts';

/** No built wheel has all its spokes below it. `common practice` */
const LEAST_N = 50;

/** A whole table of tensions far below any wheel's: what has happened to it, and what to do. Undefined where nothing looks so. */
export function splitThousands(tensions: readonly number[], unit: TensionUnit): string | undefined {
  const highest = Math.max(...tensions);
  if (tensions.length === 0 || tensionFrom(highest, unit) >= LEAST_N) return undefined;
  return `The highest of these tensions is ${highest} ${unit}, far below any built wheel’s. If thousands are written with a point, write them without; if the unit is another, choose it.`;
}
