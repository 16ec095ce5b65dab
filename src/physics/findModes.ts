/** What the root finder needs of a structure: a determinant smooth in ω and the count of natural frequencies below ω. */
export interface Countable {
  count: number;
  subdivide(omegaMax: number, tension: number): void;
  evaluate(omega: number, tension: number): number;
}

const RELATIVE_TOLERANCE = 2e-14;

/**
 * The lowest natural frequencies of a structure, none missed, double ones twice.
 *
 * Method: brackets by the Wittrick–Williams count (bisection until each bracket holds one frequency), then Anderson–Björck regula
 * falsi on the determinant, which has no poles; where two coincide, bisection on the count to the last digit.
 * @param start rad/s, any positive guess of the order of the first
 * @returns ω in rad/s, ascending, `count` long
 * @throws RangeError if `count` frequencies do not exist below 1e9 rad/s
 */
export const findModes = (structure: Countable, tension: number, count: number, start: number): Float64Array => {
  const below = new Float64Array(count);
  const above = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const note = (omega: number, found: number): void => {
    for (let m = 0; m < count; m++) {
      if (found <= m) below[m] = Math.max(below[m] as number, omega);
      else above[m] = Math.min(above[m] as number, omega);
    }
  };
  const counted = (omega: number): number => {
    structure.evaluate(omega, tension);
    note(omega, structure.count);
    return structure.count;
  };
  let top = start;
  for (;;) {
    structure.subdivide(top, tension);
    if (counted(top) >= count) break;
    top *= 1.6;
    if (!(top < 1e9)) throw new RangeError(`fewer than ${count} natural frequencies below 1e9 rad/s`);
  }
  const roots = new Float64Array(count);
  for (let m = 0; m < count; m++) {
    const sample = (omega: number): Sample => {
      const f = omega > 0 ? structure.evaluate(omega, tension) : 0;
      return { omega, f, count: omega > 0 ? structure.count : 0 };
    };
    roots[m] = refine(structure, tension, m, sample(below[m] as number), sample(above[m] as number), note);
  }
  return roots;
};

/**
 * The frequency number `mode` (from 0) near a guess, as `findModes` finds it, but starting from a narrow bracket round the guess.
 * @param guess rad/s
 * @param width relative half width of the first bracket tried
 */
export const findModeNear = (
  structure: Countable,
  tension: number,
  mode: number,
  guess: number,
  width: number,
  tolerance = RELATIVE_TOLERANCE,
): number => {
  let limit = guess * (1 + 4 * width);
  structure.subdivide(limit, tension);
  const at = (omega: number): Sample => {
    const f = structure.evaluate(omega, tension);
    return { omega, f, count: structure.count };
  };
  let low: Sample | undefined;
  let high: Sample | undefined;
  for (let step = width; low === undefined; step *= 2.5) {
    const sample = at(guess * Math.exp(-step));
    if (sample.count <= mode) low = sample;
    else high = sample;
  }
  for (let step = width; high === undefined; step *= 2.5) {
    const omega = guess * Math.exp(step);
    if (omega > limit) {
      limit = omega * 1.5;
      structure.subdivide(limit, tension);
      low = at(low.omega);
    }
    const sample = at(omega);
    if (sample.count > mode) high = sample;
    else low = sample;
  }
  return refine(structure, tension, mode, low, high, () => undefined, tolerance);
};

/** Determinant and count at one ω, rad/s. */
interface Sample {
  readonly omega: number;
  readonly f: number;
  readonly count: number;
}

const refine = (
  structure: Countable,
  tension: number,
  mode: number,
  from: Sample,
  to: Sample,
  note: (omega: number, found: number) => void,
  tolerance = RELATIVE_TOLERANCE,
): number => {
  let { omega: low, f: fLow, count: countLow } = from;
  let { omega: high, f: fHigh, count: countHigh } = to;
  const value = (omega: number): number => {
    const f = structure.evaluate(omega, tension);
    note(omega, structure.count);
    return f;
  };
  // Bisection on the count until the bracket holds this frequency alone.
  while ((countHigh - countLow !== 1 || low === 0) && high - low > tolerance * high) {
    const middle = 0.5 * (low + high);
    const f = value(middle);
    if (structure.count > mode) {
      high = middle;
      fHigh = f;
      countHigh = structure.count;
    } else {
      low = middle;
      fLow = f;
      countLow = structure.count;
    }
  }
  // Anderson–Björck: a secant in a bracket whose stale end is scaled down.
  let side = 0;
  for (let i = 0; i < 100 && high - low > tolerance * high; i++) {
    if (fLow === 0) return low;
    if (fHigh === 0) return high;
    const bisect = i % 12 === 11 || fLow > 0 === fHigh > 0;
    const step = 0.4 * tolerance * high;
    const secant = bisect ? 0.5 * (low + high) : (low * fHigh - high * fLow) / (fHigh - fLow);
    const x = Math.min(Math.max(secant, low + step), high - step);
    const f = value(x);
    if (structure.count > mode) {
      const shrink = 1 - f / fHigh;
      if (side === 1) fLow *= shrink > 0 ? shrink : 0.5;
      high = x;
      fHigh = f;
      side = 1;
    } else {
      const shrink = 1 - f / fLow;
      if (side === -1) fHigh *= shrink > 0 ? shrink : 0.5;
      low = x;
      fLow = f;
      side = -1;
    }
  }
  return 0.5 * (low + high);
};
