import { type Newtons, newtons, type TensionUnit, tensionFrom } from '../units.ts';
import { curveAt, type MonotoneCurve, monotoneCurve } from './monotoneCurve.ts';

/** A gauge's chart for one section of spoke, as its owner typed it. */
export interface GaugeChart {
  /** Which section: `2.0 mm round steel`. */
  readonly section: string;
  readonly unit: TensionUnit;
  readonly points: readonly { readonly reading: number; readonly tension: number }[];
}

export type ChartReason = 'tooFewPoints' | 'notAFigure' | 'repeatedReading' | 'notMonotone';
export type ChartProblem = { readonly row: number; readonly reason: ChartReason; readonly detail: string };

/** A chart made ready: tensions in newtons over readings. */
export interface ReadyChart {
  readonly curve: MonotoneCurve;
  readonly lowest: number;
  readonly highest: number;
}

/** The scheme in words for report and screen. */
export const CHART_SCHEME = 'monotone cubic, Fritsch–Butland';

/**
 * Makes a gauge's chart ready, or names the rows that cannot be.
 *
 * Readings may rise or fall with tension, but must do one of the two all the way; rows may stand in any order.
 *
 * @returns Rows count from 1, in the order given.
 */
export function readyChart(
  chart: GaugeChart,
):
  | { readonly ok: true; readonly chart: ReadyChart }
  | { readonly ok: false; readonly problems: readonly ChartProblem[] } {
  const problems: ChartProblem[] = [];
  const rows = chart.points.map((point, i) => ({ ...point, row: i + 1 }));
  for (const { row, reading, tension } of rows)
    if (!Number.isFinite(reading) || !(tension >= 0) || !Number.isFinite(tension))
      problems.push({ row, reason: 'notAFigure', detail: `${reading} → ${tension}` });
  if (rows.length < 2) problems.push({ row: rows.length, reason: 'tooFewPoints', detail: '2' });
  if (problems.length > 0) return { ok: false, problems };
  const sorted = rows.toSorted((a, b) => a.reading - b.reading || a.row - b.row);
  for (const [i, one] of sorted.entries()) {
    const before = sorted[i - 1];
    if (before && before.reading === one.reading)
      problems.push({ row: one.row, reason: 'repeatedReading', detail: `${one.reading}` });
  }
  const rises = (sorted.at(-1)?.tension ?? 0) > (sorted[0]?.tension ?? 0);
  for (const [i, one] of sorted.entries()) {
    const before = sorted[i - 1];
    if (before === undefined || before.reading === one.reading) continue;
    if (rises ? one.tension <= before.tension : one.tension >= before.tension)
      problems.push({ row: one.row, reason: 'notMonotone', detail: `${before.tension} → ${one.tension}` });
  }
  if (problems.length > 0) return { ok: false, problems: problems.toSorted((a, b) => a.row - b.row) };
  const curve = monotoneCurve(
    sorted.map((one) => one.reading),
    sorted.map((one) => tensionFrom(one.tension, chart.unit)),
  );
  return { ok: true, chart: { curve, lowest: sorted[0]?.reading ?? 0, highest: sorted.at(-1)?.reading ?? 0 } };
}

export type ChartTension =
  | {
      readonly ok: true;
      readonly tension: Newtons;
      /** Newtons for one unit of the reading, unsigned. */
      readonly perReading: number;
    }
  | { readonly ok: false; readonly reason: 'outsideChart'; readonly detail: string };

/** Tension of a reading; outside the chart it says so and gives none. */
export function chartTension(chart: ReadyChart, reading: number): ChartTension {
  if (!(reading >= chart.lowest && reading <= chart.highest))
    return { ok: false, reason: 'outsideChart', detail: `${chart.lowest}–${chart.highest}` };
  const { value, slope } = curveAt(chart.curve, reading);
  return { ok: true, tension: newtons(value), perReading: Math.abs(slope) };
}
