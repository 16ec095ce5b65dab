import { describe, expect, it } from 'vitest';
import type { Gauge } from '../../src/spokes/gauge.ts';
import { gaugeReadings } from '../../src/spokes/gaugeReadings.ts';
import { readChart } from '../../src/spokes/readChart.ts';
import { secondReadings, U_GAUGE_UNSTATED } from '../../src/spokes/secondReadings.ts';

const KGF = 9.80665;
const sides = ['left', 'right', 'left', 'right'] as const;
const round = (readings: readonly (readonly [number, readonly number[]])[], id = 'a') => ({
  id,
  at: '2026-01-01T00:00:00.000Z',
  state: { tyre: 'off' } as const,
  readings: readings.map(([spoke, values]) => ({ spoke, values })),
});
const chart = (points: readonly (readonly [number, number])[]) => ({
  section: '2.0 mm',
  unit: 'kgf' as const,
  points: points.map(([reading, tension]) => ({ reading, tension })),
});
const RISING = chart([
  [20, 70],
  [22, 90],
  [24, 115],
]);
const gauge = (change: Partial<Gauge>): Gauge => ({
  id: 'g',
  name: 'Gauge',
  scale: 'direct',
  unit: 'kgf',
  uPercent: 4,
  rounds: [
    round([
      [2, [100, 102]],
      [4, [110]],
    ]),
  ],
  ...change,
});

describe('what a gauge read', () => {
  it('is in newtons by its unit, with its stated uncertainty relative to tension', () => {
    const { readings, uAssumed } = secondReadings(gauge({}), sides);
    expect(readings.get(2)?.valuesN).toEqual([100 * KGF, 102 * KGF]);
    expect(readings.get(2)?.uN).toBeCloseTo(0.04 * 101 * KGF, 9);
    expect(readings.has(1)).toBe(false);
    expect(uAssumed).toBe(false);
  });

  it('without a stated uncertainty takes the usual one and says so', () => {
    const { uPercent: _, ...unstated } = gauge({});
    const { readings, uAssumed } = secondReadings(unstated, sides);
    expect(uAssumed).toBe(true);
    expect(readings.get(4)?.uN).toBeCloseTo(U_GAUGE_UNSTATED * 110 * KGF, 9);
  });

  it('goes through the chart of its side; what the chart does not reach is left out by name', () => {
    const marks = gauge({
      scale: 'chart',
      charts: { right: RISING },
      rounds: [
        round([
          [2, [22]],
          [4, [24.5]],
          [1, [21]],
        ]),
      ],
    });
    const { readings, outside, withoutChart } = secondReadings(marks, sides);
    expect(readings.get(2)?.valuesN[0]).toBeCloseTo(90 * KGF, 9);
    expect([...readings.keys()]).toEqual([2]);
    expect(outside).toEqual([{ spoke: 4, value: 24.5, chart: '20–24' }]);
    expect(withoutChart).toEqual(['left']);
  });

  it('makes no tension through a chart that turns back, and names the row', () => {
    const turned = chart([
      [20, 70],
      [22, 60],
      [24, 115],
    ]);
    const { readings, chartProblems } = secondReadings(
      gauge({ scale: 'chart', charts: { left: turned, right: turned }, rounds: [round([[2, [22]]])] }),
      sides,
    );
    expect(readings.size).toBe(0);
    expect(chartProblems.map(({ side, row, reason }) => [side, row, reason])).toEqual([
      ['left', 2, 'notMonotone'],
      ['right', 2, 'notMonotone'],
    ]);
  });

  it('puts rounds together spoke by spoke, and keeps repeats apart for repeatability', () => {
    const twice = gauge({ rounds: [round([[2, [100, 102]]]), round([[2, [98]]], 'b')] });
    const { readings, rounds } = secondReadings(twice, sides);
    expect(readings.get(2)?.valuesN.map((value) => Math.round(value / KGF))).toEqual([100, 102, 98]);
    expect(rounds.map((one) => Math.round((one.values.get(2) ?? 0) / KGF))).toEqual([100, 102, 98]);
  });

  it('passes over spokes that the wheel does not have', () => {
    expect(secondReadings(gauge({ rounds: [round([[9, [100]]])] }), sides).readings.size).toBe(0);
  });
});

describe('a chart as it is typed', () => {
  it('is read in any usual form, with the unit of its head', () => {
    expect(readChart('mark;kgf\n20;70\n22,5;90')).toEqual({
      points: [
        { reading: 20, tension: 70 },
        { reading: 22.5, tension: 90 },
      ],
      lines: [2, 3],
      unit: 'kgf',
      problems: [],
    });
    expect(readChart('20 70\n22 90').points).toHaveLength(2);
  });

  it('may stand the other way round, as its head says, and name its unit beside the figures', () => {
    const points = [
      { reading: 20, tension: 70 },
      { reading: 22, tension: 90 },
    ];
    expect(readChart('kgf;mark\n70;20\n90;22')).toMatchObject({ points, unit: 'kgf', problems: [] });
    expect(readChart('20;70 kgf\n22;90 kgf')).toMatchObject({ points, unit: 'kgf', problems: [] });
  });

  it('in two units, or one that is not read, is told', () => {
    const told = (text: string) => readChart(text).problems.map(({ line, reason, detail }) => [line, reason, detail]);
    expect(told('20;70 kgf\n22;883 N')).toEqual([[2, 'unitsMixed', 'kgf, N']]);
    expect(told('mark;daN\n20;70\n22;90')).toEqual([[1, 'unitNotRead', 'daN']]);
  });

  it('names the line that is not two figures', () => {
    expect(readChart('20 70\n22\n24 x').problems.map(({ line, reason }) => [line, reason])).toEqual([
      [2, 'notTwoFigures'],
      [3, 'notAFigure'],
    ]);
  });
});

describe('a table with several things wrong', () => {
  it('tells all of them: a cell that is no figure hides no repeated or unknown spoke', () => {
    const { problems } = gaugeReadings('1;20\n2;21\n2;22\n77;20\n5;x', 32);
    expect(problems.map(({ line, reason }) => [line, reason])).toEqual([
      [3, 'spokeRepeated'],
      [4, 'spokeUnknown'],
      [5, 'notAFigure'],
    ]);
  });
});
