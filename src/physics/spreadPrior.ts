/** A log-uniform prior as a row of Gaussians in ln k: centres with equal weight, and their common width. */
export interface Spread {
  readonly lnK: readonly number[];
  readonly sigma: number;
  /** Weights of the centres, their sum 1; absent: equal. */
  readonly weights?: readonly number[];
}

/**
 * Covers [low, high] with Gaussians in ln k, σ = 0.6 of their spacing: their sum is flat within 2 % inside.
 * @param spacing largest distance of two centres, nat
 */
export const spreadPrior = (low: number, high: number, spacing: number): Spread => {
  const from = Math.log(low);
  const range = Math.log(high) - from;
  if (range < 0.3) return { lnK: [from + range / 2], sigma: Math.max(range / Math.sqrt(12), 1e-3) };
  const n = Math.max(2, Math.ceil(range / spacing));
  return { lnK: Array.from({ length: n }, (_, i) => from + ((i + 0.5) * range) / n), sigma: (0.6 * range) / n };
};
