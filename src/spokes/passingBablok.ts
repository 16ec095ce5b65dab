import type { LineFit, LineRefusal } from './deming.ts';
import { median } from './median.ts';
import { studentFactor } from './studentT.ts';

/**
 * Robust line through pairs with errors in both: the shifted median of all slopes between two points.
 *
 * Pairs equal in x and y are dropped, and slopes of exactly −1; the median is shifted by the number of slopes below −1, which makes the
 * result the same whichever method is called x. The intervals are order statistics by the normal approximation of Kendall's sum.
 *
 * @param confidence Of the intervals, two-sided.
 * @source Passing & Bablok, J. Clin. Chem. Clin. Biochem. 21 (1983) 709; without shift: Theil (1950), Sen, JASA 63 (1968) 1379
 * @validity Linear relation, both methods about equally precise; intervals want ten pairs and more.
 */
export function passingBablok(
  x: readonly number[],
  y: readonly number[],
  confidence = 0.95,
): ({ readonly ok: true } & LineFit) | LineRefusal {
  const n = x.length;
  if (n < 3) return { ok: false, reason: 'tooFewPairs', detail: `${n} < 3` };
  const slopes: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const dx = (x[j] ?? 0) - (x[i] ?? 0);
      const dy = (y[j] ?? 0) - (y[i] ?? 0);
      if (dx === 0 && dy === 0) continue;
      const slope = dx === 0 ? Math.sign(dy) * Number.POSITIVE_INFINITY : dy / dx;
      if (slope !== -1) slopes.push(slope);
    }
  }
  slopes.sort((a, b) => a - b);
  const count = slopes.length;
  const shift = slopes.filter((slope) => slope < -1).length;
  // Order statistics, counted from 1.
  const ranked = (rank: number): number => slopes[Math.min(count, Math.max(1, rank)) - 1] ?? Number.NaN;
  const slope =
    count % 2 === 1 ? ranked((count + 1) / 2 + shift) : (ranked(count / 2 + shift) + ranked(count / 2 + 1 + shift)) / 2;
  if (count === 0 || !Number.isFinite(slope)) return { ok: false, reason: 'noSpread', detail: `${count}` };
  const spread = studentFactor(confidence, Number.POSITIVE_INFINITY) * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const lowRank = Math.round((count - spread) / 2);
  const low = ranked(lowRank + shift);
  const high = ranked(count - lowRank + 1 + shift);
  const interceptAt = (b: number) => median(x.map((value, i) => (y[i] ?? 0) - b * value));
  return {
    ok: true,
    slope: { value: slope, low, high },
    intercept: {
      value: interceptAt(slope),
      low: Number.isFinite(high) ? interceptAt(high) : Number.NEGATIVE_INFINITY,
      high: Number.isFinite(low) ? interceptAt(low) : Number.POSITIVE_INFINITY,
    },
  };
}
