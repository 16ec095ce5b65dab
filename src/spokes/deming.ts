import { type Interval, intervalAround } from './interval.ts';
import { studentFactor } from './studentT.ts';

export interface LineFit {
  /** y = intercept + slope · x. */
  readonly intercept: Interval;
  readonly slope: Interval;
}
export type LineRefusal = { readonly ok: false; readonly reason: 'tooFewPairs' | 'noSpread'; readonly detail: string };

/**
 * Line through pairs with errors in both, the ratio of their variances known; standard errors by leaving one pair out at a time.
 *
 * @param ratio Variance of y's errors over variance of x's, positive: from the two methods' own repeatability.
 * @throws RangeError if the ratio is not positive.
 * @source Deming, Statistical Adjustment of Data (1943); Linnet, Statistics in Medicine 9 (1990) 1463 (jackknife)
 * @validity One ratio over the whole range; two methods read with the same care.
 */
export function deming(
  x: readonly number[],
  y: readonly number[],
  ratio: number,
  confidence = 0.95,
): ({ readonly ok: true } & LineFit) | LineRefusal {
  if (!(ratio > 0)) throw new RangeError(`ratio of variances ${ratio}: expected more than 0`);
  const n = x.length;
  if (n < 3) return { ok: false, reason: 'tooFewPairs', detail: `${n} < 3` };
  const all = line(x, y, ratio);
  if (all === undefined) return { ok: false, reason: 'noSpread', detail: '0' };
  const without = (values: readonly number[], i: number) => values.filter((_, j) => j !== i);
  const left = x.map((_, i) => line(without(x, i), without(y, i), ratio) ?? all);
  const factor = studentFactor(confidence, n - 2);
  const interval = (of: 'slope' | 'intercept') => {
    // Pseudo-values: their spread is that of the estimate.
    const pseudo = left.map((one) => n * all[of] - (n - 1) * one[of]);
    const mean = pseudo.reduce((sum, value) => sum + value, 0) / n;
    const variance = pseudo.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1) / n;
    return intervalAround(all[of], factor * Math.sqrt(variance));
  };
  return { ok: true, intercept: interval('intercept'), slope: interval('slope') };
}

function line(
  x: readonly number[],
  y: readonly number[],
  ratio: number,
): { readonly intercept: number; readonly slope: number } | undefined {
  const n = x.length;
  const mx = x.reduce((sum, value) => sum + value, 0) / n;
  const my = y.reduce((sum, value) => sum + value, 0) / n;
  let sxx = 0;
  let syy = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    const dx = (x[i] ?? 0) - mx;
    const dy = (y[i] ?? 0) - my;
    sxx += dx * dx;
    syy += dy * dy;
    sxy += dx * dy;
  }
  if (sxy === 0 || sxx === 0) return undefined;
  const slope = (syy - ratio * sxx + Math.sqrt((syy - ratio * sxx) ** 2 + 4 * ratio * sxy ** 2)) / (2 * sxy);
  return { slope, intercept: my - slope * mx };
}
