import quantile from '@stdlib/stats-base-dists-t-quantile';
import fc from 'fast-check';
import { sampleCorrelation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { type Agreement, agreement, withinVariance } from '../../src/spokes/agreement.ts';
import { deming } from '../../src/spokes/deming.ts';
import { errorsInBoth } from '../../src/spokes/errorsInBoth.ts';
import { passingBablok } from '../../src/spokes/passingBablok.ts';
import { repeatability, reproducibility } from '../../src/spokes/repeatability.ts';
import { studentFactor } from '../../src/spokes/studentT.ts';
import { ARSENATE, PEAK_FLOW, PEARSON_YORK } from './publishedData.ts';
import { SYSTOLIC_PRESSURE } from './systolicPressure.ts';

/** Normal factor of 95 %. */
const Z = 1.959963984540054;

const { wright1, wright2, mini1, mini2 } = PEAK_FLOW;
const agreed = (pairs: Parameters<typeof agreement>[0]): Agreement => {
  const result = agreement(pairs);
  if (!result.ok) throw new Error(result.reason);
  return result;
};
const fitted = <Result extends { ok: boolean }>(result: Result): Extract<Result, { ok: true }> => {
  if (!result.ok) throw new Error(JSON.stringify(result));
  return result as Extract<Result, { ok: true }>;
};

describe("Student's factor", () => {
  it('is that of the tables', () => {
    // Two-sided 95 %; any table of Student's t.
    for (const [degrees, t] of [
      [1, 12.706205],
      [2, 4.302653],
      [4, 2.776445],
      [9, 2.262157],
      [16, 2.119905],
      [30, 2.042272],
    ] as const)
      expect(studentFactor(0.95, degrees)).toBeCloseTo(t, 6);
    // JCGM 100:2008, H.1: t99(16) = 2.92.
    expect(studentFactor(0.99, 16)).toBeCloseTo(2.92078, 5);
    expect(studentFactor(0.95, Number.POSITIVE_INFINITY)).toBeCloseTo(1.959963984540054, 9);
  });

  it('agrees with a statistics library', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 0.999, noNaN: true }),
        fc.integer({ min: 1, max: 500 }),
        (confidence, degrees) => {
          const library = quantile((1 + confidence) / 2, degrees);
          expect(studentFactor(confidence, degrees) / library - 1).toBeCloseTo(0, 8);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('agreement after Bland and Altman', () => {
  const single = agreed(wright1.map((value, i) => ({ spoke: i + 1, first: [value], second: [mini1[i] ?? 0] })));

  it('has the published bias and limits of peak flow, first readings', () => {
    // Lancet (1986): mean difference −2.1, SD 38.8, r = 0.94; limits with 1.96 in place of the paper's 2.
    expect(single.bias.value).toBeCloseTo(-2.11764705882, 9);
    expect(single.sd).toBeCloseTo(38.7651298736, 9);
    expect(single.bias.value - 1.96 * single.sd).toBeCloseTo(-78.0973, 3);
    expect(single.bias.value + 1.96 * single.sd).toBeCloseTo(73.862, 3);
    expect(single.lower.value).toBeCloseTo(-78.0973, 2);
    expect(single.upper.value).toBeCloseTo(73.862, 2);
    expect(single.bias.value - 2 * single.sd).toBeCloseTo(-79.648, 3);
    expect(single.correlation).toBeCloseTo(0.943279446891, 10);
  });

  it('has the interval of the bias that the standard error 9.40 and t(16) give', () => {
    expect(single.bias.low).toBeCloseTo(-22.0488, 3);
    expect(single.bias.high).toBeCloseTo(17.8135, 3);
  });

  it('has the standard error of a limit of the later paper', () => {
    // Statistical Methods in Medical Research (1999), section 2: s·√(1/n + 1.96²/(2(n − 1))) = 16.3951.
    expect((single.upper.high - single.upper.value) / studentFactor(0.95, 16)).toBeCloseTo(16.3951, 3);
    // The first paper's √(3 s²/n) = 16.28 lies within 1 %.
    expect(Math.abs((single.upper.high - single.upper.value) / studentFactor(0.95, 16) / 16.2846 - 1)).toBeLessThan(
      0.01,
    );
  });

  it('corrects the limits when both methods were read twice', () => {
    const twice = agreed(
      wright1.map((value, i) => ({
        spoke: i + 1,
        first: [value, wright2[i] ?? 0],
        second: [mini1[i] ?? 0, mini2[i] ?? 0],
      })),
    );
    expect(twice.bias.value).toBeCloseTo(-6.02941176471, 9);
    // Paper: corrected SD 37.7.
    expect(twice.sd).toBeCloseTo(37.6547786203, 8);
  });

  const { observerJ, observerR, machineS } = SYSTOLIC_PRESSURE;
  const persons = observerJ[0].map((_, i) => i);
  const three = (method: readonly (readonly number[])[], i: number) => method.map((round) => round[i] ?? 0);

  it('has the published bias and limits of blood pressure, first readings of observer and machine', () => {
    // Bland & Altman (1999), section 2: mean −16.29, SD 19.61, limits −54.7 and 22.1.
    const first = agreed(
      persons.map((i) => ({ spoke: i + 1, first: [observerJ[0][i] ?? 0], second: [machineS[0][i] ?? 0] })),
    );
    expect(first.count).toBe(85);
    expect(first.bias.value).toBeCloseTo(-16.29, 2);
    expect(first.sd).toBeCloseTo(19.61, 2);
    expect(first.lower.value).toBeCloseTo(-54.7, 1);
    expect(first.upper.value).toBeCloseTo(22.1, 1);
  });

  it('has the published variances within persons, of three readings by each', () => {
    // Section 3.1 and 5.1: 37.408 (J), 37.980 (R), 83.141 (S).
    for (const [method, variance] of [
      [observerJ, 37.408],
      [observerR, 37.98],
      [machineS, 83.141],
    ] as const) {
      const within = withinVariance(persons.map((i) => three(method, i)));
      expect(within.variance).toBeCloseTo(variance, 3);
      expect(within.degrees).toBe(170);
    }
  });

  it('puts the variances of three repeats together as published', () => {
    // Section 5.1: mean −15.62, corrected SD 20.95, limits −56.68 and 25.44.
    const result = agreed(
      persons.map((i) => ({ spoke: i + 1, first: three(observerJ, i), second: three(machineS, i) })),
    );
    expect(result.bias.value).toBeCloseTo(-15.62, 2);
    expect(result.sd).toBeCloseTo(20.95, 2);
    expect(result.lower.value).toBeCloseTo(-56.68, 2);
    expect(result.upper.value).toBeCloseTo(25.44, 2);
  });

  it('has the published repeatability coefficient of an observer: 16.95 mmHg', () => {
    // Section 3.1 (from memory): 1.96 · √2 · 6.12 = 16.95 for J.
    const round = (values: readonly number[]) => ({
      by: 'J',
      values: new Map(values.map((value, i) => [i + 1, value])),
    });
    const result = repeatability(observerJ.map(round));
    expect(result?.withinSd).toBeCloseTo(Math.sqrt(37.408), 3);
    expect(result?.coefficient).toBeCloseTo(16.95, 2);
  });

  it('sees a proportional bias, and none where there is none', () => {
    const by = (factor: number) =>
      agreed(
        Array.from({ length: 16 }, (_, i) => ({
          spoke: i + 1,
          first: [factor * (900 + 20 * i) + (i % 3)],
          second: [900 + 20 * i],
        })),
      );
    expect(by(1.1).proportional.evident).toBe(true);
    expect(by(1.1).proportional.slope.value).toBeCloseTo(0.1 / 1.05, 2);
    expect(by(1).proportional.evident).toBe(false);
  });

  it('has the correlation of a statistics library', () => {
    expect(single.correlation).toBeCloseTo(sampleCorrelation(wright1, mini1), 12);
  });

  it('is refused for two pairs', () => {
    expect(
      agreement([
        { spoke: 1, first: [1], second: [1] },
        { spoke: 2, first: [1], second: [1] },
      ]),
    ).toMatchObject({ ok: false, reason: 'tooFewPairs' });
  });
});

describe('Deming regression', () => {
  const x = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  const y = [2.3, 4.1, 7.9, 7.7, 13.5, 11.3, 19.1, 14.9, 24.7, 20.5];
  it.each([
    // Test data of a published regression package; the closed formula evaluated by another program.
    [1, -1.32859170952, 2.53247121991],
    [0.5, -1.44378858525, 2.55341610641],
    [2, -1.14000176375, 2.49818213886],
  ])('with the ratio %d has the published line', (ratio, intercept, slope) => {
    const fit = fitted(deming(x, y, ratio));
    expect(fit.intercept.value).toBeCloseTo(intercept, 9);
    expect(fit.slope.value).toBeCloseTo(slope, 9);
  });

  it('of peak flow and of arsenate has the published line', () => {
    expect(fitted(deming(wright1, mini1, 1)).intercept.value).toBeCloseTo(15.2315555223, 8);
    expect(fitted(deming(wright1, mini1, 1)).slope.value).toBeCloseTo(0.970880819765, 10);
    expect(fitted(deming(ARSENATE.x, ARSENATE.y, 1)).intercept.value).toBeCloseTo(0.429399427, 8);
    expect(fitted(deming(ARSENATE.x, ARSENATE.y, 1)).slope.value).toBeCloseTo(0.875948142, 8);
  });

  it('does not care which method is called x', () => {
    const forth = fitted(deming(wright1, mini1, 2));
    const back = fitted(deming(mini1, wright1, 0.5));
    expect(forth.slope.value * back.slope.value).toBeCloseTo(1, 10);
  });

  it('is refused without spread, and a ratio that is none is a bug', () => {
    expect(deming([1, 1, 1], [1, 2, 3], 1)).toMatchObject({ ok: false, reason: 'noSpread' });
    expect(() => deming(x, y, 0)).toThrow('ratio of variances 0');
  });
});

describe('the line with errors in both', () => {
  const pairs = ARSENATE.x.map((value, i) => ({
    x: value,
    ux: ARSENATE.ux[i] ?? 0,
    y: ARSENATE.y[i] ?? 0,
    uy: ARSENATE.uy[i] ?? 0,
  }));
  it('is that published for arsenate by maximum likelihood', () => {
    // Ripley & Thompson (1987): intercept 0.106448, slope 0.973000 (minimum found by another program: 0.106448275, 0.972987804).
    const fit = fitted(errorsInBoth(pairs));
    expect(fit.intercept.value).toBeCloseTo(0.106448, 5);
    expect(Math.abs(fit.slope.value - 0.973)).toBeLessThan(2e-5);
    expect(fit.slope.value).toBeCloseTo(0.972987804, 7);
    // Sum of squares over 30 from the same source: 1.2678.
    expect((fit.misfit * 28) / 30).toBeCloseTo(1.2678, 3);
  });

  it('is that published for the data of Pearson with the weights of York, standard errors included', () => {
    // York et al., Am. J. Phys. 72 (2004) 367: 5.47991022, −0.480533407, 0.294970735, 0.0579850090; sum over n − 2: 1.483294149.
    const { x, y, weightX, weightY } = PEARSON_YORK;
    const u = (weight: number | undefined) => 1 / Math.sqrt(weight ?? 0);
    const fit = fitted(
      errorsInBoth(x.map((value, i) => ({ x: value, ux: u(weightX[i]), y: y[i] ?? 0, uy: u(weightY[i]) }))),
    );
    expect(fit.intercept.value).toBeCloseTo(5.47991022, 7);
    expect(fit.slope.value).toBeCloseTo(-0.480533407, 8);
    expect((fit.intercept.high - fit.intercept.value) / Z).toBeCloseTo(0.294970735, 8);
    expect((fit.slope.high - fit.slope.value) / Z).toBeCloseTo(0.057985009, 9);
    expect(fit.misfit).toBeCloseTo(1.483294149, 8);
  });

  it('is the straight line itself when there is no error to it', () => {
    const fit = fitted(errorsInBoth([1, 2, 3, 5].map((value) => ({ x: value, ux: 0.1, y: 3 - 2 * value, uy: 0.2 }))));
    expect(fit.slope.value).toBeCloseTo(-2, 6);
    expect(fit.intercept.value).toBeCloseTo(3, 6);
  });
});

describe('Passing–Bablok regression', () => {
  it("has Sen's slope, intercept and corrected 93 % interval", () => {
    // Sen, JASA 63 (1968) 1379: slope 4, intercept 6; interval 26/7 to 35/8 (misprinted there, corrected later).
    const fit = fitted(passingBablok([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93));
    expect(fit.slope.value).toBe(4);
    expect(fit.intercept.value).toBe(6);
    expect(fit.slope.low).toBeCloseTo(26 / 7, 12);
    expect(fit.slope.high).toBeCloseTo(35 / 8, 12);
  });

  it('of six points is exact', () => {
    const fit = fitted(passingBablok([1, 2, 3, 4, 5, 6], [2, 1.2, 4.1, 3.5, 6.3, 3]));
    expect(fit.slope.value).toBeCloseTo(1.05, 12);
    expect(fit.intercept.value).toBeCloseTo(0.125, 12);
  });

  it('of peak flow is that of another program', () => {
    const fit = fitted(passingBablok(wright1, mini1));
    expect(fit.slope.value).toBeCloseTo(1.064814814815, 10);
    expect(fit.intercept.value).toBeCloseTo(-24.305555555556, 9);
  });

  it('does not care which method is called x', () => {
    const forth = fitted(passingBablok(wright1, mini1));
    const back = fitted(passingBablok(mini1, wright1));
    expect(forth.slope.value * back.slope.value).toBeCloseTo(1, 10);
  });
});

describe('repeatability', () => {
  const round = (by: string, values: readonly number[]) => ({
    by,
    values: new Map(values.map((value, i) => [i + 1, value])),
  });

  it('has the published within-subject standard deviations of both meters', () => {
    // Bland & Altman (1986): 15.3 and 19.9 l/min; coefficients of repeatability 43.2 and 56.4 with a factor 2 in place of 1.96.
    const wright = repeatability([round('a', wright1), round('a', wright2)]);
    const mini = repeatability([round('a', mini1), round('a', mini2)]);
    expect(wright?.withinSd).toBeCloseTo(15.3066690579, 9);
    expect(mini?.withinSd).toBeCloseTo(19.9108306324, 9);
    expect((2 / 1.959963984540054) * (wright?.coefficient ?? 0)).toBeCloseTo(43.2938, 3);
    expect((2 / 1.959963984540054) * (mini?.coefficient ?? 0)).toBeCloseTo(56.3163, 3);
    expect(withinVariance(wright1.map((value, i) => [value, wright2[i] ?? 0])).degrees).toBe(17);
  });

  it('tells drift from scatter', () => {
    const values = Array.from({ length: 20 }, (_, i) => 1000 + 10 * ((i * 7) % 11));
    const later = values.map((value, i) => value + 30 + (i % 2 === 0 ? 2 : -2));
    const result = repeatability([round('a', values), round('a', later)]);
    expect(result?.drifts[0]?.value).toBeCloseTo(30, 9);
    expect((result?.drifts[0]?.low ?? 0) > 0).toBe(true);
    expect(result?.withinSd ?? 0).toBeGreaterThan(20);
    // Differences of ±2 about their mean: s = 2/√2 with 19 of 20 degrees of freedom.
    expect(result?.withinSdNoDrift).toBeCloseTo(Math.sqrt(2 * (20 / 19)), 9);
  });

  it('of several persons separates who from how often', () => {
    const values = Array.from({ length: 24 }, (_, i) => 1000 + 10 * ((i * 7) % 11));
    const noisy = (shift: number, salt: number) => values.map((value, i) => value + shift + 3 * (((i * salt) % 7) - 3));
    const result = reproducibility([
      round('a', noisy(0, 3)),
      round('a', noisy(0, 5)),
      round('b', noisy(20, 2)),
      round('b', noisy(20, 4)),
    ]);
    expect(result?.betweenSd).toBeCloseTo(20 / Math.SQRT2, -1);
    expect(result?.reproducibilitySd ?? 0).toBeGreaterThan(result?.repeat.withinSd ?? 0);
    expect(reproducibility([round('a', values), round('a', values)])).toBeUndefined();
  });

  it('is not said of spokes read once', () => {
    expect(repeatability([round('a', [1, 2, 3])])).toBeUndefined();
  });
});
