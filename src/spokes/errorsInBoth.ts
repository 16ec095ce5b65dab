import type { LineFit, LineRefusal } from './deming.ts';
import { intervalAround } from './interval.ts';

export interface MeasuredPair {
  readonly x: number;
  /** Standard uncertainty. */
  readonly ux: number;
  readonly y: number;
  readonly uy: number;
}

const Z = 1.959963984540054;

/**
 * Line through pairs that each carry their own uncertainties in both directions: the likeliest under normal errors.
 *
 * Minimises Σ (y − a − bx)² / (u_y² + b² u_x²): for a given slope the intercept is a weighted mean, so one variable is searched. Standard
 * errors follow from the likeliest true x of each pair.
 *
 * @returns The fit with 95 % intervals, and `misfit`, the minimum over its degrees of freedom: about one if the uncertainties are honest.
 * @source Ripley & Thompson, Analyst 112 (1987) 377; York et al., Am. J. Phys. 72 (2004) 367, eq. 13
 */
export function errorsInBoth(
  pairs: readonly MeasuredPair[],
): ({ readonly ok: true; readonly misfit: number } & LineFit) | LineRefusal {
  const n = pairs.length;
  if (n < 3) return { ok: false, reason: 'tooFewPairs', detail: `${n} < 3` };
  const xs = pairs.map((pair) => pair.x);
  if (Math.max(...xs) === Math.min(...xs)) return { ok: false, reason: 'noSpread', detail: `${xs[0]}` };
  const at = (angle: number) => weighted(pairs, Math.tan(angle));
  // Every slope is an angle between −90° and 90°: a coarse look over all, then golden section.
  const steps = 720;
  const angles = Array.from({ length: steps - 1 }, (_, i) => -Math.PI / 2 + ((i + 1) * Math.PI) / steps);
  const best = angles.reduce((lowest, angle) => (at(angle).sum < at(lowest).sum ? angle : lowest));
  let low = best - Math.PI / steps;
  let high = best + Math.PI / steps;
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let i = 0; i < 120; i++) {
    const a = high - golden * (high - low);
    const b = low + golden * (high - low);
    if (at(a).sum < at(b).sum) high = b;
    else low = a;
  }
  const slope = Math.tan((low + high) / 2);
  const { intercept, sum } = weighted(pairs, slope);
  // York 2004, eq. 13d: standard errors at the likeliest true x of each pair.
  const adjusted = pairs.map(({ x, ux, y, uy }) => {
    const weight = 1 / (uy ** 2 + slope ** 2 * ux ** 2);
    return { weight, x: weight * (x * uy ** 2 + slope * (y - intercept) * ux ** 2) };
  });
  const weights = adjusted.reduce((total, one) => total + one.weight, 0);
  const centre = adjusted.reduce((total, one) => total + one.weight * one.x, 0) / weights;
  const slopeVariance = 1 / adjusted.reduce((total, one) => total + one.weight * (one.x - centre) ** 2, 0);
  const interceptVariance = 1 / weights + centre ** 2 * slopeVariance;
  return {
    ok: true,
    slope: intervalAround(slope, Z * Math.sqrt(slopeVariance)),
    intercept: intervalAround(intercept, Z * Math.sqrt(interceptVariance)),
    misfit: sum / (n - 2),
  };
}

const term = ({ x, ux, y, uy }: MeasuredPair, a: number, b: number): number =>
  (y - a - b * x) ** 2 / (uy ** 2 + b ** 2 * ux ** 2);

function weighted(pairs: readonly MeasuredPair[], slope: number): { readonly intercept: number; readonly sum: number } {
  let weights = 0;
  let total = 0;
  for (const { x, ux, y, uy } of pairs) {
    const weight = 1 / (uy ** 2 + slope ** 2 * ux ** 2);
    weights += weight;
    total += weight * (y - slope * x);
  }
  const intercept = total / weights;
  return { intercept, sum: pairs.reduce((sum, pair) => sum + term(pair, intercept, slope), 0) };
}
