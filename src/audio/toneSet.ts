import type { Family, Plane } from '../contract.ts';

/** Tones that belong together, as functions of one parameter: ln of tension, or ln of the first tone. */
export interface ToneSet {
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  readonly guess: boolean;
  readonly from: number;
  readonly step: number;
  /** Ascending in mode. */
  readonly modes: readonly SetTone[];
  /** Tones of the same member that this set does not number: other families, the other plane. */
  readonly companions: readonly SetTone[];
}
export interface SetTone {
  readonly mode: number;
  /** ln frequency on the even grid `from + i·step`. */
  readonly ln: Float64Array;
  /** Relative standard uncertainty of this tone alone, on the same grid. */
  readonly u: Float64Array;
  /** Relative rise of this tone where the ends depart by one standard deviation from their mean; all tones depart together. */
  readonly ends: Float64Array;
}

export const lastOf = (set: ToneSet): number => set.from + set.step * ((set.modes[0] as SetTone).ln.length - 1);

/** Linear between the points of the grid, held at its ends. */
export function at(values: Float64Array, set: ToneSet, x: number): number {
  const p = Math.max(0, Math.min(values.length - 1, (x - set.from) / set.step));
  const i = Math.min(values.length - 2, Math.floor(p));
  const f = p - i;
  return (1 - f) * (values[i] as number) + f * (values[i + 1] as number);
}

/** Parameter at which a rising tone has this ln frequency; undefined outside the grid. */
export function parameterAt(tone: SetTone, set: ToneSet, ln: number): number | undefined {
  let low = 0;
  let high = tone.ln.length - 1;
  if (ln < (tone.ln[low] as number) || ln > (tone.ln[high] as number)) return undefined;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((tone.ln[middle] as number) <= ln) low = middle;
    else high = middle;
  }
  const a = tone.ln[low] as number;
  const b = tone.ln[high] as number;
  return set.from + set.step * (low + (b > a ? (ln - a) / (b - a) : 0));
}
