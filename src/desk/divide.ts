import type { Refusal } from '../contract.ts';
import { median } from '../spokes/median.ts';

/** How much longer a pause between spokes must be than the longest one within a spoke to count as clearly longer. */
const CLEARLY_LONGER = 1.25;

export type DivideReason = 'tooFewPlucks' | 'pausesNotClear' | 'groupsDoNotFit';
export type Divided = { readonly ok: true; readonly groups: readonly (readonly number[])[] } | Refusal<DivideReason>;

export interface DivideOptions {
  /** Spokes of the wheel; absent where the groups are numbered from a given spoke on and any count is right. */
  readonly spokeCount?: number;
  /** Least pause between spokes, seconds; absent: the longest pauses decide. */
  readonly leastPauseS?: number;
}

/**
 * Divides a recorded round into one group of plucks a spoke, by its pauses.
 *
 * Without a least pause the N − 1 longest pauses are the borders, and the shortest of them must be clearly longer
 * than the longest pause left within a group: a missed pluck then shows as a refusal, never as a shift. A stray sound in the pause
 * between two spokes would make one group of both: that is refused too.
 *
 * @param onsetsS onsets in seconds, ascending
 * @returns groups of indices into `onsetsS`, in order
 */
export function divide(onsetsS: readonly number[], options: DivideOptions): Divided {
  for (let i = 1; i < onsetsS.length; i++) {
    if ((onsetsS[i] as number) < (onsetsS[i - 1] as number))
      throw new RangeError(`onsets must ascend, not fall at ${i}`);
  }
  const pauses = onsetsS.slice(1).map((onset, i) => onset - (onsetsS[i] as number));
  const { spokeCount, leastPauseS } = options;
  if (leastPauseS !== undefined) {
    const groups = cut(onsetsS.length, (i) => (pauses[i] as number) >= leastPauseS);
    if (spokeCount !== undefined && groups.length !== spokeCount) {
      return { ok: false, reason: 'groupsDoNotFit', detail: `${groups.length} groups for ${spokeCount} spokes` };
    }
    return twoInOne(onsetsS, groups, leastPauseS) ?? { ok: true, groups };
  }
  const count = spokeCount ?? countByGap(pauses);
  if (onsetsS.length < count) {
    return { ok: false, reason: 'tooFewPlucks', detail: `${onsetsS.length} plucks for ${count} spokes` };
  }
  const ranked = pauses.map((pause, i) => ({ pause, i })).sort((a, b) => b.pause - a.pause);
  const borders = new Set(ranked.slice(0, count - 1).map(({ i }) => i));
  const shortestBorder = ranked[count - 2]?.pause;
  const longestWithin = ranked[count - 1]?.pause;
  if (shortestBorder !== undefined && longestWithin !== undefined && shortestBorder < CLEARLY_LONGER * longestWithin) {
    return {
      ok: false,
      reason: 'pausesNotClear',
      detail: `pause ${count - 1} by length is ${shortestBorder.toFixed(2)} s, the next ${longestWithin.toFixed(2)} s`,
    };
  }
  const groups = cut(onsetsS.length, (i) => borders.has(i));
  return (
    twoInOne(onsetsS, groups, (shortestBorder ?? Number.POSITIVE_INFINITY) / CLEARLY_LONGER) ?? { ok: true, groups }
  );
}

/**
 * Refuses a group with the sounds of two of its like, where three of them in a row reach as far as what parts two spokes: the middle one
 * may be a stray.
 */
function twoInOne(
  onsetsS: readonly number[],
  groups: readonly (readonly number[])[],
  leastPauseS: number,
): Refusal<DivideReason> | undefined {
  const usual = median(groups.map((group) => group.length));
  for (const group of groups)
    for (let i = 2; i < group.length && group.length >= 2 * usual; i++) {
      const from = onsetsS[group[i - 2] as number] as number;
      const reach = (onsetsS[group[i] as number] as number) - from;
      if (reach < leastPauseS) continue;
      const detail = `from ${from.toFixed(1)} s on three sounds reach over ${reach.toFixed(1)} s, as those of two spokes do`;
      return { ok: false, reason: 'pausesNotClear', detail };
    }
  return undefined;
}

function cut(length: number, isBorder: (pauseIndex: number) => boolean): number[][] {
  const groups: number[][] = [];
  for (let i = 0; i < length; i++) {
    if (i === 0 || isBorder(i - 1)) groups.push([]);
    (groups.at(-1) as number[]).push(i);
  }
  return groups;
}

/** Where the count is not known: the largest ratio between neighbouring pauses in order of length is the border's. */
function countByGap(pauses: readonly number[]): number {
  const sorted = [...pauses].sort((a, b) => b - a);
  let best = { ratio: CLEARLY_LONGER, count: sorted.length + 1 };
  for (let i = 0; i + 1 < sorted.length; i++) {
    const ratio = (sorted[i] as number) / (sorted[i + 1] as number);
    if (ratio > best.ratio) best = { ratio, count: i + 2 };
  }
  return best.count;
}
