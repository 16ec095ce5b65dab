import type { Reading } from '../contract.ts';
import type { LimitVerdict } from './limitVerdict.ts';
import type { WorkedBounds } from './workedBounds.ts';

/** The figures of one spoke as a report prints them, each already rounded; what follows from others follows from these. */
export interface PrintedFigures {
  /** Hz, two decimals. */
  readonly firstHz: number;
  /** m, four decimals. */
  readonly freeLengthM: number;
  /** kg/m, six decimals. */
  readonly massPerLength: number;
  /** N·m², four decimals. */
  readonly bending: number;
  /** 4 μ L² f², whole newtons; π² EI/L²; and the one less the other. */
  readonly stringN: number;
  readonly stiffnessN: number;
  readonly pinnedN: number;
  /** The tension found, whole newtons, and its ratio to the string's, three decimals. */
  readonly tensionN: number;
  readonly factor: number;
  /** Standard uncertainties in the order of the reading's contributions, two decimals; root of the sum of their squares; its double, one decimal. */
  readonly partsN: readonly number[];
  readonly rootN: number;
  readonly expandedN: number;
  /** Where a limit was given; whole newtons. */
  readonly limit?: {
    readonly tensionN: number;
    readonly expandedN: number;
    readonly fromN: number;
    readonly toN: number;
  };
}

/** @param limit Of the same reading, in the limit's state. */
export function printedFigures(
  bounds: WorkedBounds,
  firstHz: number,
  reading: Reading,
  limit?: LimitVerdict,
): PrintedFigures {
  const given = {
    firstHz: rounded(firstHz, 2),
    freeLengthM: rounded(bounds.freeLength, 4),
    massPerLength: rounded(bounds.massPerLength, 6),
    bending: rounded(bounds.bending, 4),
    tensionN: rounded(reading.tensionN, 0),
    partsN: reading.contributions.map(({ uN }) => rounded(uN, 2)),
  };
  const stringN = rounded(4 * given.massPerLength * (given.freeLengthM * given.firstHz) ** 2, 0);
  const stiffnessN = rounded((Math.PI ** 2 * given.bending) / given.freeLengthM ** 2, 0);
  const rootN = rounded(Math.hypot(...given.partsN), 2);
  return {
    ...given,
    stringN,
    stiffnessN,
    pinnedN: stringN - stiffnessN,
    factor: rounded(given.tensionN / stringN, 3),
    rootN,
    expandedN: rounded(2 * rootN, 1),
    ...(limit && { limit: reachOf(limit) }),
  };
}

function reachOf(limit: LimitVerdict): NonNullable<PrintedFigures['limit']> {
  const [tensionN, expandedN] = [rounded(limit.tension, 0), rounded(limit.expanded, 0)];
  return { tensionN, expandedN, fromN: tensionN - expandedN, toN: tensionN + expandedN };
}

const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));
