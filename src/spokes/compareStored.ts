import type { MeasureRefusal, Reading } from '../contract.ts';
import type { StoredReadings } from './readingsFile.ts';

/** A tension computed again is the stored one if it lies so close, percent. */
export const REPRODUCED_PERCENT = 0.01;

export interface Reproduction {
  readonly reproduced: boolean;
  /** What stored them. */
  readonly by: string;
  /** Spokes with a tension in both. */
  readonly compared: number;
  readonly largestDifferencePercent: number;
  /** Spokes whose tension differs by more, or that have one in one of the two only. */
  readonly differing: readonly {
    readonly spoke: number;
    readonly storedN?: number;
    readonly againN?: number;
  }[];
}

/** Tensions as they were handed out beside the same computed again. */
export function compareStored(
  stored: StoredReadings,
  again: ReadonlyMap<number, Reading | MeasureRefusal>,
): Reproduction {
  const before = new Map(
    stored.spokes.flatMap((one) => ('tensionN' in one ? [[one.spoke, one.tensionN] as const] : [])),
  );
  const after = new Map(
    [...again].flatMap(([spoke, one]) => (one.ok ? [[spoke, one.tensionN as number] as const] : [])),
  );
  const spokes = [...new Set([...before.keys(), ...after.keys()])].toSorted((a, b) => a - b);
  let largest = 0;
  let compared = 0;
  const differing: { spoke: number; storedN?: number; againN?: number }[] = [];
  for (const spoke of spokes) {
    const storedN = before.get(spoke);
    const againN = after.get(spoke);
    if (storedN !== undefined && againN !== undefined) {
      const percent = 100 * Math.abs(againN / storedN - 1);
      compared++;
      largest = Math.max(largest, percent);
      if (percent <= REPRODUCED_PERCENT) continue;
    }
    differing.push({
      spoke,
      ...(storedN === undefined ? {} : { storedN }),
      ...(againN === undefined ? {} : { againN }),
    });
  }
  return {
    reproduced: differing.length === 0 && compared > 0,
    by: stored.by,
    compared,
    largestDifferencePercent: largest,
    differing,
  };
}
