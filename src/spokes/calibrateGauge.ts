import { withinVariance } from './agreement.ts';
import { errorsInBoth } from './errorsInBoth.ts';
import { type Interval, intervalAround } from './interval.ts';
import { judgeLeftOut, type LeftOutJudgement } from './judgeLeftOut.ts';
import { studentFactor } from './studentT.ts';

/** One spoke by a gauge, and by ear without any help of that gauge. */
export interface CalibrationPair {
  readonly spoke: number;
  /** As the gauge shows them: tensions in newtons, or marks. Repeats in the order read. */
  readonly shown: readonly number[];
  readonly earN: number;
  /** What varies from spoke to spoke. */
  readonly uOwnN: number;
  /** What the ear's readings of a side share. */
  readonly uCommonN: number;
}

export interface GaugeCalibration {
  /** `factor`: T = slope · shown, for a gauge that shows tension; `line`: T = intercept + slope · shown, for marks. */
  readonly model: 'factor' | 'line';
  readonly count: number;
  readonly slope: Interval;
  /** With `line`, newtons. */
  readonly intercept?: Interval;
  /** What the ear shares over the side, relative: the calibrated gauge has it too, whatever the number of spokes. */
  readonly uCommonRelative: number;
  /** Standard deviation of one of the gauge's readings, as it shows them, and whence: its repeats, or what the ear's own part leaves of the scatter. */
  readonly scatter: { readonly shown: number; readonly from: 'repeats' | 'residuals' };
  /** Marks over which it holds. */
  readonly from: number;
  readonly to: number;
  /** A chart by ear: tension at five marks between, with its standard uncertainty from fit and common part. */
  readonly chart: readonly { readonly shown: number; readonly tensionN: number; readonly uN: number }[];
  /** Each spoke judged by the calibration made without it. */
  readonly leftOut: LeftOutJudgement;
  /** The same pairs as the gauge showed them, where it shows tension: root mean square of the differences. */
  readonly beforeRmsN?: number;
}
export type CalibrationRefusal = {
  readonly ok: false;
  readonly reason: 'tooFewPairs' | 'noSpread';
  readonly detail: string;
};

const FEWEST = 5;
const CHART_POINTS = 5;

interface Fit {
  readonly intercept: number;
  readonly slope: number;
}
interface Point {
  readonly x: number;
  readonly ux: number;
  readonly y: number;
  readonly uy: number;
}

/**
 * Calibrates a gauge by the ear, one side at a time, and judges every spoke by the calibration made without it.
 *
 * Errors in both: the ear's own part and the gauge's scatter, which is that of its repeats, or without repeats what the ear's own part leaves of
 * the differences. The fits that leave one spoke out serve twice: each predicts the spoke that it has not seen, and together they give the
 * standard errors (jackknife). What the ear shares over the side is added afterwards and never averaged.
 *
 * @param pairs Of one side; the ear's readings must not rest on this gauge.
 * @param shows Tension (a factor is fitted) or marks (a line).
 * @source Errors in both: Ripley & Thompson, Analyst 112 (1987) 377; jackknife: Linnet, Stat. Med. 9 (1990) 1463; leave-one-out: Allen,
 *   Technometrics 16 (1974) 125
 * @validity Between the least and the largest mark read; a line holds for marks of one side only because they lie close together.
 */
export function calibrateGauge(
  pairs: readonly CalibrationPair[],
  shows: 'tension' | 'marks',
): ({ readonly ok: true } & GaugeCalibration) | CalibrationRefusal {
  const used = pairs.filter((pair) => pair.shown.length > 0);
  const n = used.length;
  if (n < FEWEST) return { ok: false, reason: 'tooFewPairs', detail: `${n} < ${FEWEST}` };
  const model = shows === 'tension' ? 'factor' : 'line';
  const xs = used.map((pair) => mean(pair.shown));
  if (model === 'line' && Math.max(...xs) === Math.min(...xs))
    return { ok: false, reason: 'noSpread', detail: `${xs[0]}` };
  const repeats = withinVariance(used.map((pair) => pair.shown));
  const pointsWith = (scatter: number): Point[] =>
    used.map(({ shown, earN, uOwnN }, i) => ({
      x: xs[i] ?? 0,
      ux: scatter / Math.sqrt(shown.length),
      y: earN,
      uy: Math.max(uOwnN, LEAST_RELATIVE * earN),
    }));
  const first = pointsWith(0);
  const scatter =
    repeats.degrees > 0 && repeats.variance > 0 ? Math.sqrt(repeats.variance) : residualScatter(first, model);
  const points = pointsWith(scatter);
  const all = fitted(points, model);
  if (all === undefined) return { ok: false, reason: 'noSpread', detail: `${xs[0]}` };
  const without = points.map(
    (_, i) =>
      fitted(
        points.filter((_, j) => j !== i),
        model,
      ) ?? all,
  );
  const jackknife = (of: (one: Fit) => number): number => {
    const values = without.map(of);
    const centre = mean(values);
    return Math.sqrt(((n - 1) / n) * values.reduce((sum, value) => sum + (value - centre) ** 2, 0));
  };
  const factor = studentFactor(0.95, n - (model === 'line' ? 2 : 1));
  const uCommonRelative = mean(used.map((pair) => pair.uCommonN / pair.earN));
  const predicted = ({ intercept, slope }: Fit, x: number) => intercept + slope * x;
  const fromRepeats = repeats.degrees > 0 && repeats.variance > 0;
  const differences = points.map(({ x, ux, y, uy }, i) => {
    const one = without[i] ?? all;
    return {
      spoke: used[i]?.spoke ?? 0,
      differenceN: y - predicted(one, x),
      uN: Math.hypot(
        uy,
        one.slope * ux,
        jackknife((other) => predicted(other, x)),
      ),
    };
  });
  const from = Math.min(...xs);
  const to = Math.max(...xs);
  return {
    ok: true,
    model,
    count: n,
    slope: intervalAround(all.slope, factor * jackknife((one) => one.slope)),
    ...(model === 'line'
      ? { intercept: intervalAround(all.intercept, factor * jackknife((one) => one.intercept)) }
      : {}),
    uCommonRelative,
    scatter: { shown: scatter, from: fromRepeats ? 'repeats' : 'residuals' },
    from,
    to,
    chart: Array.from({ length: CHART_POINTS }, (_, i) => {
      const shown = from + ((to - from) * i) / (CHART_POINTS - 1);
      const tensionN = predicted(all, shown);
      return {
        shown,
        tensionN,
        uN: Math.hypot(
          jackknife((one) => predicted(one, shown)),
          uCommonRelative * tensionN,
        ),
      };
    }),
    leftOut: judgeLeftOut(differences, fromRepeats),
    ...(model === 'factor' ? { beforeRmsN: Math.sqrt(mean(points.map(({ x, y }) => (y - x) ** 2))) } : {}),
  };
}

/** No reading is surer than this; keeps weights finite. */
const LEAST_RELATIVE = 1e-4;

/** What the ear's own part leaves of the scatter about a first fit, in the gauge's own scale, by moments. */
function residualScatter(points: readonly Point[], model: GaugeCalibration['model']): number {
  const one = fitted(points, model);
  if (one === undefined || one.slope === 0) return 0;
  const degrees = points.length - (model === 'line' ? 2 : 1);
  const residual = points.reduce((sum, { x, y }) => sum + (y - one.intercept - one.slope * x) ** 2, 0) / degrees;
  const own = mean(points.map(({ uy }) => uy ** 2));
  return Math.sqrt(Math.max(0, residual - own)) / Math.abs(one.slope);
}

function fitted(points: readonly Point[], model: GaugeCalibration['model']): Fit | undefined {
  if (model === 'line') {
    const line = errorsInBoth(points);
    return line.ok ? { intercept: line.intercept.value, slope: line.slope.value } : undefined;
  }
  // Σ (y − bx)² / (u_y² + b² u_x²) has its minimum where its derivative is nought; weights follow the slope, so it is repeated.
  let slope = mean(points.map(({ x, y }) => y / x));
  for (let i = 0; i < 100; i++) {
    let top = 0;
    let bottom = 0;
    for (const { x, ux, y, uy } of points) {
      const variance = uy ** 2 + slope ** 2 * ux ** 2;
      // The likeliest true x of the pair: between what the gauge shows and what the ear says through the slope (York 2004, eq. 13b).
      const truth = (x * uy ** 2 + slope * y * ux ** 2) / variance;
      top += (y * truth) / variance;
      bottom += (x * truth) / variance;
    }
    const next = top / bottom;
    if (Math.abs(next - slope) <= 1e-14 * Math.abs(slope)) return { intercept: 0, slope: next };
    slope = next;
  }
  return Number.isFinite(slope) ? { intercept: 0, slope } : undefined;
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
