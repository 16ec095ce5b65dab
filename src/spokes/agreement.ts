import { type Interval, intervalAround } from './interval.ts';
import { leastSquaresLine } from './leastSquaresLine.ts';
import { studentFactor } from './studentT.ts';

/** One spoke by two methods, each once or more often, same unit. */
export interface PairedSpoke {
  readonly spoke: number;
  readonly first: readonly number[];
  readonly second: readonly number[];
}

export interface Agreement {
  readonly count: number;
  /** Mean of first − second. */
  readonly bias: Interval;
  /** Standard deviation of the difference of two single readings; with repeats put together from its parts. */
  readonly sd: number;
  /** bias ± 1.96 sd: 95 % of single differences lie between, each limit with its own interval. */
  readonly lower: Interval;
  readonly upper: Interval;
  /**
   * Change of the difference with the size of the reading; whether its interval leaves out zero; what scatters about that line. A method
   * that only scatters more than the other also gives a slope.
   */
  readonly proportional: { readonly slope: Interval; readonly evident: boolean; readonly residualSd: number };
  /** Pearson's; beside the others only: it tells that spokes differ, not that methods agree. */
  readonly correlation: number;
  readonly points: readonly { readonly spoke: number; readonly mean: number; readonly difference: number }[];
}

export type AgreementRefusal = { readonly ok: false; readonly reason: 'tooFewPairs'; readonly detail: string };

/** Normal factor of 95 %. */
const Z = 1.959963984540054;
const FEWEST = 3;

/**
 * Agreement of two methods on the spokes of one side.
 *
 * Bias is the mean difference, limits of agreement are bias ± 1.96 s. Where spokes were read repeatedly, s² of single readings is that of
 * the means plus (1 − 1/m) of each method's variance within a spoke; the limits' standard errors follow from the variances of
 * those parts. One side at a time: two sides of a dished wheel pooled flatter any correlation.
 *
 * @param confidence Of the intervals, two-sided.
 * @source Bland & Altman, Lancet 327 (1986) 307; Statistical Methods in Medical Research 8 (1999) 135, sections 2, 3.1 and 5
 * @validity Differences about normal, with no trend over the range (see `proportional`).
 */
export function agreement(
  pairs: readonly PairedSpoke[],
  confidence = 0.95,
): ({ readonly ok: true } & Agreement) | AgreementRefusal {
  const full = pairs.filter((pair) => pair.first.length > 0 && pair.second.length > 0);
  const n = full.length;
  if (n < FEWEST) return { ok: false, reason: 'tooFewPairs', detail: `${n} < ${FEWEST}` };
  const points = full.map(({ spoke, first, second }) => {
    const a = average(first);
    const b = average(second);
    return { spoke, mean: (a + b) / 2, difference: a - b, a, b };
  });
  const differences = points.map((point) => point.difference);
  const bias = average(differences);
  const varianceOfMeans = sumOfSquares(differences) / (n - 1);
  const parts = [full.map((pair) => pair.first), full.map((pair) => pair.second)].map((readings) => {
    const { variance, degrees } = withinVariance(readings);
    // Mean of 1 − 1/m over the spokes: m may differ.
    const share = average(readings.map((one) => 1 - 1 / one.length));
    return { added: share * variance, uncertainty: degrees > 0 ? (2 * (share * variance) ** 2) / degrees : 0 };
  });
  const variance = varianceOfMeans + parts.reduce((sum, part) => sum + part.added, 0);
  const sd = Math.sqrt(variance);
  const factor = studentFactor(confidence, n - 1);
  const varianceOfVariance =
    (2 * varianceOfMeans ** 2) / (n - 1) + parts.reduce((sum, part) => sum + part.uncertainty, 0);
  const seBias = Math.sqrt(varianceOfMeans / n);
  // var(s) = var(s²)/(4 s²)
  const seLimit = Math.sqrt(
    varianceOfMeans / n + (Z ** 2 * varianceOfVariance) / (4 * Math.max(variance, Number.MIN_VALUE)),
  );
  return {
    ok: true,
    count: n,
    bias: intervalAround(bias, factor * seBias),
    sd,
    lower: intervalAround(bias - Z * sd, factor * seLimit),
    upper: intervalAround(bias + Z * sd, factor * seLimit),
    proportional: proportionalBias(points, confidence),
    correlation: correlation(
      points.map((point) => point.a),
      points.map((point) => point.b),
    ),
    points: points.map(({ spoke, mean, difference }) => ({ spoke, mean, difference })),
  };
}

/** Least squares of the difference on the mean. @source Bland & Altman (1999), section 3.2 */
function proportionalBias(
  points: readonly { readonly mean: number; readonly difference: number }[],
  confidence: number,
): Agreement['proportional'] {
  const differences = points.map((point) => point.difference);
  const line = leastSquaresLine(
    points.map((point) => point.mean),
    differences,
  );
  if (line === undefined) {
    const slope = { value: 0, low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
    return { slope, evident: false, residualSd: Math.sqrt(sumOfSquares(differences) / (points.length - 1)) };
  }
  const slope = intervalAround(line.slope, studentFactor(confidence, line.degrees) * line.uSlope);
  return { slope, evident: slope.low > 0 || slope.high < 0, residualSd: line.residualSd };
}

/** Variance of readings of one spoke about their mean, pooled over spokes. @source one-way analysis of variance; Bland & Altman (1999), 5.1 */
export function withinVariance(readings: readonly (readonly number[])[]): {
  readonly variance: number;
  readonly degrees: number;
} {
  const degrees = readings.reduce((sum, one) => sum + one.length - 1, 0);
  const squares = readings.reduce((sum, one) => sum + sumOfSquares(one), 0);
  return { variance: degrees > 0 ? squares / degrees : 0, degrees };
}

export function correlation(x: readonly number[], y: readonly number[]): number {
  const mx = average(x);
  const my = average(y);
  const sxy = x.reduce((sum, value, i) => sum + (value - mx) * ((y[i] ?? 0) - my), 0);
  return sxy / Math.sqrt(sumOfSquares(x) * sumOfSquares(y));
}

const average = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const sumOfSquares = (values: readonly number[]): number => {
  const mean = average(values);
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
};
