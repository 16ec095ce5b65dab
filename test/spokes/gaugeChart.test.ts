import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartTension, type GaugeChart, readyChart } from '../../src/spokes/gaugeChart.ts';
import { curveAt, monotoneCurve } from '../../src/spokes/monotoneCurve.ts';

/** Radiochemical data RPN 14. @source Fritsch & Carlson, SIAM J. Numer. Anal. 17 (1980) 238 */
const RPN14 = {
  x: [7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20],
  y: [0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.94374, 0.998636, 0.999919, 0.999994],
};

describe('the monotone curve of a gauge chart', () => {
  const curve = monotoneCurve(RPN14.x, RPN14.y);

  it('has the slopes of SLATEC’s PCHIM, as two numeric libraries give them', () => {
    const slopes = [
      0, 0.000552508681868, 0.335876834608, 0.349449167686, 0.596958238927, 0.060321845523, 0.000900395382769,
      3.14246836304e-5, 0,
    ];
    for (const [i, slope] of slopes.entries()) expect(curve.slopes[i]).toBeCloseTo(slope, 11);
  });

  it.each([
    [8.0, 2.7674338631872e-7],
    [8.14, 0.017697167375919],
    [8.45, 0.10658953776098],
    [9.0, 0.3375343268462],
    [9.6, 0.76024763934038],
    [11, 0.98604336253505],
    [13.5, 0.99960336401218],
    [17.5, 0.99997614042727],
  ])('at %d has their value', (x, value) => expect(curveAt(curve, x).value).toBeCloseTo(value, 12));

  it('never turns between points that do not', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.double({ min: 0.01, max: 5, noNaN: true }), fc.double({ min: 0.001, max: 5, noNaN: true })),
          { minLength: 2, maxLength: 12 },
        ),
        (steps) => {
          const x: number[] = [0];
          const y: number[] = [0];
          for (const [dx, dy] of steps) {
            x.push((x.at(-1) ?? 0) + dx);
            y.push((y.at(-1) ?? 0) + dy);
          }
          const one = monotoneCurve(x, y);
          let before = Number.NEGATIVE_INFINITY;
          for (let i = 0; i <= 200; i++) {
            const { value, slope } = curveAt(one, i === 200 ? (x.at(-1) ?? 0) : ((x.at(-1) ?? 0) * i) / 200);
            expect(value).toBeGreaterThanOrEqual(before - 1e-9);
            expect(slope).toBeGreaterThanOrEqual(-1e-9);
            before = value;
          }
        },
      ),
    );
  });
});

describe('a gauge chart', () => {
  const chart = (points: readonly (readonly [number, number])[], unit: GaugeChart['unit'] = 'kgf') =>
    readyChart({ section: '2.0 mm', unit, points: points.map(([reading, tension]) => ({ reading, tension })) });

  it('gives newtons, and nothing outside its rows', () => {
    const ready = chart([
      [20, 70],
      [22, 90],
      [24, 115],
      [26, 146],
    ]);
    if (!ready.ok) throw new Error('chart');
    const inside = chartTension(ready.chart, 22);
    expect(inside.ok && inside.tension).toBeCloseTo(90 * 9.80665, 9);
    expect(chartTension(ready.chart, 19.9)).toEqual({ ok: false, reason: 'outsideChart', detail: '20–26' });
    expect(chartTension(ready.chart, Number.NaN).ok).toBe(false);
  });

  it('may fall where a gauge shows more for less', () => {
    const ready = chart([
      [20, 146],
      [24, 115],
      [22, 130],
    ]);
    expect(ready.ok).toBe(true);
  });

  it.each([
    [
      [
        [20, 70],
        [22, 60],
        [24, 115],
      ],
      [[2, 'notMonotone']],
    ],
    [
      [
        [20, 70],
        [20, 75],
        [24, 115],
      ],
      [[2, 'repeatedReading']],
    ],
    [[[20, 70]], [[1, 'tooFewPoints']]],
    [
      [
        [20, 70],
        [Number.NaN, 80],
        [24, -5],
      ],
      [
        [2, 'notAFigure'],
        [3, 'notAFigure'],
      ],
    ],
  ] as const)('%j is refused by its row', (points, said) => {
    const ready = chart(points as never);
    expect(ready.ok ? [] : ready.problems.map((problem) => [problem.row, problem.reason])).toEqual(said);
  });
});
