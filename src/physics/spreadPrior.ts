/** A log-uniform prior as a row of Gaussians in ln k: centres with equal weight, and their common width. */
export interface Spread {
  readonly lnK: readonly number[];
  readonly sigma: number;
}

/** Largest distance of two centres, nat. Within it the tones are linear in ln k to about 0.01 %. */
const SPACING = 0.66;

/**
 * Covers [low, high] with Gaussians in ln k, σ = 0.6 of their spacing: their sum is flat within 2 % inside.
 * @param count centres; absent: as many as the spacing needs
 */
export const spreadPrior = (low: number, high: number, count?: number): Spread => {
  const from = Math.log(low);
  const range = Math.log(high) - from;
  if (range < 0.3) return { lnK: [from + range / 2], sigma: Math.max(range / Math.sqrt(12), 1e-3) };
  const n = count ?? Math.max(2, Math.ceil(range / SPACING));
  const spacing = range / n;
  return { lnK: Array.from({ length: n }, (_, i) => from + (i + 0.5) * spacing), sigma: 0.6 * spacing };
};
