/** A curve through points that never turns between them. */
export interface MonotoneCurve {
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Slope at each point. */
  readonly slopes: readonly number[];
}

/**
 * Piecewise cubic through points, monotone wherever they are.
 *
 * Inner slopes are weighted harmonic means of the neighbouring secants, 0 where these differ in sign; end slopes from three points, held
 * back so that the curve keeps its shape. A plain cubic spline would overshoot between the points of a steep chart.
 *
 * @param x Ascending, two or more.
 * @throws RangeError if x does not ascend, or there are fewer than two points.
 * @source Fritsch & Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300; ends as in SLATEC's PCHIM (Fritsch, 1982)
 */
export function monotoneCurve(x: readonly number[], y: readonly number[]): MonotoneCurve {
  const n = x.length;
  if (n < 2 || y.length !== n)
    throw new RangeError(`${n} points with ${y.length} values: expected two or more of each`);
  const at = (values: readonly number[], i: number): number => values[i] ?? Number.NaN;
  const steps = Array.from({ length: n - 1 }, (_, i) => at(x, i + 1) - at(x, i));
  if (steps.some((step) => !(step > 0))) throw new RangeError('points: expected x to ascend');
  const secants = steps.map((step, i) => (at(y, i + 1) - at(y, i)) / step);
  if (n === 2) return { x, y, slopes: [at(secants, 0), at(secants, 0)] };
  const slopes = x.map((_, i) => {
    if (i === 0) return endSlope(at(steps, 0), at(steps, 1), at(secants, 0), at(secants, 1));
    if (i === n - 1) return endSlope(at(steps, n - 2), at(steps, n - 3), at(secants, n - 2), at(secants, n - 3));
    const before = at(secants, i - 1);
    const after = at(secants, i);
    if (before * after <= 0) return 0;
    const w1 = 2 * at(steps, i) + at(steps, i - 1);
    const w2 = at(steps, i) + 2 * at(steps, i - 1);
    return (w1 + w2) / (w1 / before + w2 / after);
  });
  return { x, y, slopes };
}

function endSlope(near: number, far: number, secantNear: number, secantFar: number): number {
  const slope = ((2 * near + far) * secantNear - near * secantFar) / (near + far);
  if (Math.sign(slope) !== Math.sign(secantNear)) return 0;
  if (Math.sign(secantNear) !== Math.sign(secantFar) && Math.abs(slope) > Math.abs(3 * secantNear))
    return 3 * secantNear;
  return slope;
}

/** Value and slope of the curve. @throws RangeError outside the points: nothing is extrapolated. */
export function curveAt(curve: MonotoneCurve, at: number): { readonly value: number; readonly slope: number } {
  const { x, y, slopes } = curve;
  const last = x.length - 1;
  const first = x[0] ?? Number.NaN;
  const end = x[last] ?? Number.NaN;
  if (!(at >= first && at <= end)) throw new RangeError(`${at}: expected ${first} to ${end}`);
  let i = x.findIndex((value) => value > at) - 1;
  if (i < 0) i = last - 1;
  const h = (x[i + 1] ?? 0) - (x[i] ?? 0);
  const t = (at - (x[i] ?? 0)) / h;
  const [y0 = 0, y1 = 0] = [y[i], y[i + 1]];
  const [d0 = 0, d1 = 0] = [slopes[i], slopes[i + 1]];
  const value =
    y0 * (1 + 2 * t) * (1 - t) ** 2 + h * d0 * t * (1 - t) ** 2 + y1 * t ** 2 * (3 - 2 * t) + h * d1 * t ** 2 * (t - 1);
  const slope = (6 * t * (1 - t) * (y1 - y0)) / h + d0 * (1 - t) * (1 - 3 * t) + d1 * t * (3 * t - 2);
  return { value, slope };
}
