import { tensionFrom } from '../units.ts';
import type { SecondReading } from './compareMethods.ts';
import type { Gauge, GaugeRound } from './gauge.ts';
import { type ChartProblem, chartTension, type ReadyChart, readyChart } from './gaugeChart.ts';
import type { RepeatedRound } from './repeatability.ts';
import type { Side } from './wheel.ts';

/** Of a gauge whose uncertainty nobody stated, relative standard uncertainty: its chart and its spring together. `common practice` */
export const U_GAUGE_UNSTATED = 0.05;

/** With the mean of its repeats. */
export interface MeanReading extends SecondReading {
  readonly meanN: number;
}

export interface SecondReadings {
  /** Of all rounds together, by spoke. */
  readonly readings: ReadonlyMap<number, MeanReading>;
  /** Round by round, for repeatability. */
  readonly rounds: readonly RepeatedRound[];
  /** Readings that the chart does not reach: left out, never extrapolated. */
  readonly outside: readonly { readonly spoke: number; readonly value: number; readonly chart: string }[];
  /** Rows of a chart that cannot be; then no reading of that side is a tension. */
  readonly chartProblems: readonly (ChartProblem & { readonly side: Side })[];
  /** Sides without a chart, where one is needed. */
  readonly withoutChart: readonly Side[];
  /** Nobody stated the gauge's uncertainty: `U_GAUGE_UNSTATED` was taken. */
  readonly uAssumed: boolean;
}

/**
 * What a gauge read, as tensions in newtons: direct readings by their unit, marks through the chart of their side.
 *
 * Several rounds and repeats within a round are repeats of one spoke. The gauge's uncertainty is that of its calibration, relative to
 * tension, and is the same for every reading.
 *
 * @param sides Side of each place.
 */
export function secondReadings(gauge: Gauge, sides: readonly Side[]): SecondReadings {
  const charts: Partial<Record<Side, ReadyChart>> = {};
  const chartProblems: (ChartProblem & { side: Side })[] = [];
  const withoutChart: Side[] = [];
  const used = new Set(gauge.rounds.flatMap((round) => round.readings.flatMap((one) => sides[one.spoke - 1] ?? [])));
  if (gauge.scale === 'chart') {
    for (const side of ['left', 'right'] as const) {
      const chart = gauge.charts?.[side];
      if (chart === undefined) {
        if (used.has(side)) withoutChart.push(side);
        continue;
      }
      const ready = readyChart(chart);
      if (ready.ok) charts[side] = ready.chart;
      else chartProblems.push(...ready.problems.map((problem) => ({ ...problem, side })));
    }
  }
  const outside: { spoke: number; value: number; chart: string }[] = [];
  const toNewtons = (spoke: number, value: number): number[] => {
    if (gauge.scale === 'direct') return [tensionFrom(value, gauge.unit)];
    const side = sides[spoke - 1];
    const chart = side && charts[side];
    if (!chart) return [];
    const tension = chartTension(chart, value);
    if (tension.ok) return [tension.tension];
    outside.push({ spoke, value, chart: tension.detail });
    return [];
  };
  const rounds = gauge.rounds.map((round) => ({
    round,
    values: new Map(
      round.readings.flatMap(({ spoke, values }) => {
        const inNewtons = sides[spoke - 1] === undefined ? [] : values.flatMap((value) => toNewtons(spoke, value));
        return inNewtons.length > 0 ? [[spoke, inNewtons] as const] : [];
      }),
    ),
  }));
  const all = new Map<number, number[]>();
  for (const { values } of rounds)
    for (const [spoke, list] of values) all.set(spoke, [...(all.get(spoke) ?? []), ...list]);
  const relative = gauge.uPercent === undefined ? U_GAUGE_UNSTATED : gauge.uPercent / 100;
  return {
    readings: new Map(
      [...all]
        .toSorted(([a], [b]) => a - b)
        .map(([spoke, valuesN]) => [spoke, { valuesN, meanN: mean(valuesN), uN: relative * mean(valuesN) }]),
    ),
    rounds: rounds.flatMap(({ round, values }) => repeatsOf(gauge, round, values)),
    outside,
    chartProblems,
    withoutChart,
    uAssumed: gauge.uPercent === undefined,
  };
}

/** The first readings of all spokes are one round, the second ones another. */
function repeatsOf(
  gauge: Gauge,
  round: GaugeRound,
  values: ReadonlyMap<number, readonly number[]>,
): readonly RepeatedRound[] {
  const most = Math.max(0, ...[...values.values()].map((list) => list.length));
  return Array.from({ length: most }, (_, i) => ({
    by: `${round.person ?? ''} ${gauge.name}`,
    values: new Map(
      [...values].flatMap(([spoke, list]) => {
        const value = list[i];
        return value === undefined ? [] : [[spoke, value] as const];
      }),
    ),
  }));
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
