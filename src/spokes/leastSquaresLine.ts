/** y = intercept + slope · (x − origin), with standard uncertainties. */
export interface LeastSquaresLine {
  readonly intercept: number;
  readonly slope: number;
  readonly uIntercept: number;
  readonly uSlope: number;
  /** Correlation of intercept and slope. */
  readonly correlation: number;
  /** Standard deviation of the residuals, n − 2 degrees of freedom. */
  readonly residualSd: number;
  readonly degrees: number;
  /** Value of the line and its standard uncertainty. */
  readonly at: (x: number) => { readonly value: number; readonly u: number };
}

/**
 * Ordinary least squares, x without error.
 *
 * @param origin From where x is counted.
 * @returns undefined for fewer than three points or x all alike.
 * @source JCGM 100:2008, annex H.3
 */
export function leastSquaresLine(x: readonly number[], y: readonly number[], origin = 0): LeastSquaresLine | undefined {
  const n = x.length;
  if (n < 3) return undefined;
  const shifted = x.map((value) => value - origin);
  const mx = shifted.reduce((sum, value) => sum + value, 0) / n;
  const my = y.reduce((sum, value) => sum + value, 0) / n;
  const sxx = shifted.reduce((sum, value) => sum + (value - mx) ** 2, 0);
  if (sxx === 0) return undefined;
  const slope = shifted.reduce((sum, value, i) => sum + (value - mx) * ((y[i] ?? 0) - my), 0) / sxx;
  const intercept = my - slope * mx;
  const squares = shifted.reduce((sum, value, i) => sum + ((y[i] ?? 0) - my - slope * (value - mx)) ** 2, 0);
  const variance = squares / (n - 2);
  const uSlope = Math.sqrt(variance / sxx);
  const uIntercept = Math.sqrt(variance * (1 / n + mx ** 2 / sxx));
  return {
    intercept,
    slope,
    uIntercept,
    uSlope,
    correlation: -mx / Math.sqrt(sxx / n + mx ** 2),
    residualSd: Math.sqrt(variance),
    degrees: n - 2,
    at: (value) => {
      const from = value - origin;
      return { value: my + slope * (from - mx), u: Math.sqrt(variance * (1 / n + (from - mx) ** 2 / sxx)) };
    },
  };
}
