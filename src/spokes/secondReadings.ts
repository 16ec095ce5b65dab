import { newtons, tensionFrom } from '../units.ts';
import type { SecondReading } from './compareMethods.ts';
import type { Gauge, GaugeRound } from './gauge.ts';
import { type ChartProblem, chartTension, type ReadyChart, readyChart } from './gaugeChart.ts';
import type { RepeatedRound } from './repeatability.ts';
import { type StateShiftReason, stateShift } from './stateShift.ts';
import type { Side, Wheel, WheelState } from './wheel.ts';

/** Of a gauge whose uncertainty nobody stated, relative standard uncertainty: its chart and its spring together. `common practice` */
export const U_GAUGE_UNSTATED = 0.05;

/** Relative standard uncertainty of what a gauge reads, as stated or as taken where nobody states it. */
export const gaugeUncertainty = (gauge: Pick<Gauge, 'uPercent'> | undefined): number =>
  gauge?.uPercent === undefined ? U_GAUGE_UNSTATED : gauge.uPercent / 100;

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
  /** As read on those sides, by spoke, while the wheel stood as it was heard. */
  readonly marks: ReadonlyMap<number, readonly number[]>;
  /** Nobody stated the gauge's uncertainty: `U_GAUGE_UNSTATED` was taken. */
  readonly uAssumed: boolean;
  /** Rounds of the gauge in another state of the wheel than the round by ear. */
  readonly otherStates: readonly OtherState[];
}

/** One walk with the gauge while the wheel stood otherwise. */
export interface OtherState {
  readonly at: string;
  readonly state: WheelState;
  /** Corrected to the state of the round by ear: by so much on average, and how surely; the same for all its readings. */
  readonly corrected?: { readonly meanShiftN: number; readonly uN: number };
  /** Why not; then its readings are not compared. */
  readonly reason?: StateShiftReason;
}

/**
 * What a gauge read, as tensions in newtons: direct readings by their unit, marks through the chart of their side.
 *
 * Several rounds and repeats within a round are repeats of one spoke. The gauge's uncertainty is that of its calibration, relative to
 * tension, and is the same for every reading. Readings taken while the wheel stood otherwise (tyre, pressure, temperature) than when it was heard
 * are corrected where rim and states allow, the correction's uncertainty in theirs; where not, they are left out and said.
 *
 * @param sides Side of each place.
 * @param beside The wheel and its state when it was heard; without it states are not looked at.
 */
export function secondReadings(
  gauge: Gauge,
  sides: readonly Side[],
  beside?: { readonly wheel: Wheel; readonly state: WheelState },
): SecondReadings {
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
  const otherStates: OtherState[] = [];
  const all = new Map<number, { valuesN: number[]; uShiftsN: number[] }>();
  const marks = new Map<number, readonly number[]>();
  const rounds = gauge.rounds.flatMap((round) => {
    const shift = beside && stateShift(beside.wheel, round.state, beside.state);
    const { at, state } = round;
    if (shift?.kind === 'none') {
      otherStates.push({ at, state, reason: shift.reason });
      return [];
    }
    if (shift?.kind !== 'corrected')
      for (const { spoke, values } of round.readings) {
        const side = sides[spoke - 1];
        if (side && withoutChart.includes(side)) marks.set(spoke, [...(marks.get(spoke) ?? []), ...values]);
      }
    const shifts: { shift: number; u: number }[] = [];
    const values = new Map(
      round.readings.flatMap(({ spoke, values: shown }) => {
        const read = sides[spoke - 1] === undefined ? [] : shown.flatMap((value) => toNewtons(spoke, value));
        const corrected = read.map((tension) => {
          const by = shift?.kind === 'corrected' ? shift.of(spoke, newtons(tension)) : { shift: 0, u: 0 };
          if (shift?.kind === 'corrected') shifts.push(by);
          return { tension: tension + by.shift, u: by.u };
        });
        if (corrected.length === 0) return [];
        const before = all.get(spoke) ?? { valuesN: [], uShiftsN: [] };
        const valuesN = corrected.map((one) => one.tension);
        const uShiftsN = corrected.map((one) => one.u);
        all.set(spoke, { valuesN: [...before.valuesN, ...valuesN], uShiftsN: [...before.uShiftsN, ...uShiftsN] });
        return [[spoke, valuesN] as const];
      }),
    );
    if (shift?.kind === 'corrected' && shifts.length > 0)
      otherStates.push({
        at,
        state,
        corrected: { meanShiftN: mean(shifts.map((one) => one.shift)), uN: mean(shifts.map((one) => one.u)) },
      });
    return [{ round, values }];
  });
  const relative = gaugeUncertainty(gauge);
  return {
    readings: new Map(
      [...all]
        .toSorted(([a], [b]) => a - b)
        .map(([spoke, { valuesN, uShiftsN }]) => {
          const meanN = mean(valuesN);
          // One correction for all readings of a round: its uncertainty does not average out.
          return [spoke, { valuesN, meanN, uN: Math.hypot(relative * meanN, mean(uShiftsN)) }];
        }),
    ),
    rounds: rounds.flatMap(({ round, values }) => repeatsOf(gauge, round, values)),
    outside,
    chartProblems,
    withoutChart,
    marks,
    uAssumed: gauge.uPercent === undefined,
    otherStates,
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
