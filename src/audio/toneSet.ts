import type { Family, Plane } from '../contract.ts';

/** Tones that belong together, as functions of one parameter: ln of the lowest of them, Hz. */
export interface ToneSet {
  readonly plane: Plane | 'unknown';
  /** That of the tones that are numbered. */
  readonly family: Family;
  readonly guess: boolean;
  /** Those of an instrument's string, not of a spoke. */
  readonly string?: true;
  readonly from: number;
  readonly step: number;
  /** Ascending in frequency; the first is the parameter itself. */
  readonly modes: readonly SetTone[];
  /** Covariance of ln frequency of the tones at a known first tone, on the grid; square of the number of modes, row-major. */
  readonly covariance: readonly Float64Array[];
  /** ln of the tension (N) that goes with the first tone, on the grid; absent where no member is described. */
  readonly lnTension?: Float64Array;
  /** Tones of the same member in the other plane. */
  readonly companions: readonly SetTone[];
}
export interface SetTone {
  /** Number in the set's family, on the grid; 0 where the tone is of another one. */
  readonly numbers: Uint8Array;
  /** ln frequency on the even grid `from + i·step`. */
  readonly ln: Float64Array;
  /** Relative standard uncertainty of this tone alone, on the same grid. */
  readonly u: Float64Array;
  /** Relative rise of this tone for one standard deviation of the departure that moves the set most. */
  readonly ends: Float64Array;
  /** d ln frequency / d ln tension: how far it follows the tension. */
  readonly share: Float64Array;
}

export const lastOf = (set: ToneSet): number => set.from + set.step * ((set.modes[0] as SetTone).ln.length - 1);

/** Linear between the points of the grid, held at its ends. */
export function at(values: Float64Array, set: ToneSet, x: number): number {
  const p = Math.max(0, Math.min(values.length - 1, (x - set.from) / set.step));
  const i = Math.min(values.length - 2, Math.floor(p));
  const f = p - i;
  return (1 - f) * (values[i] as number) + f * (values[i + 1] as number);
}

/** Number of a tone in its set's family at a parameter; 0: it is of another family there. */
export const numberAt = (tone: SetTone, set: ToneSet, x: number): number =>
  tone.numbers[nearestPoint(set, x)] as number;

/** The point of the grid nearest to a parameter. */
export const nearestPoint = (set: ToneSet, x: number): number =>
  Math.max(0, Math.min((set.modes[0] as SetTone).ln.length - 1, Math.round((x - set.from) / set.step)));

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
