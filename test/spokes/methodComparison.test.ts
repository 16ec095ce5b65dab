import quantile from '@stdlib/stats-base-dists-t-quantile';
import fc from 'fast-check';
import { sampleCorrelation, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { type Agreement, agreement, withinVariance } from '../../src/spokes/agreement.ts';
import { repeatability, reproducibility } from '../../src/spokes/repeatability.ts';
import { studentFactor } from '../../src/spokes/studentT.ts';
import { PEAK_FLOW } from './publishedData.ts';
import { SYSTOLIC_PRESSURE } from './systolicPressure.ts';

const { wright1, wright2, mini1, mini2 } = PEAK_FLOW;
const agreed = (pairs: Parameters<typeof agreement>[0]): Agreement => {
  const result = agreement(pairs);
  if (!result.ok) throw new Error(result.reason);
  return result;
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
    expect(single.bias.value + 2 * single.sd).toBeCloseTo(75.413, 3);
    expect(single.correlation).toBeCloseTo(0.943279446891, 10);
  });

  it('has the interval of the bias that the standard error 9.40 and t(16) give', () => {
    expect(single.bias.low).toBeCloseTo(-22.0488, 3);
    expect(single.bias.high).toBeCloseTo(17.8135, 3);
  });

  it('has the published intervals of both limits, with 2 in place of 1.96 as that paper has it', () => {
    // Lancet (1986): −114.3 to −45.1 and 40.9 to 110.1, with s rounded to 38.8 and SE = √(3 s²/n).
    const half = studentFactor(0.95, 16) * Math.sqrt((3 * single.sd ** 2) / single.count);
    const of = (limit: number) => [limit - half, limit + half];
    const rounding = 0.2;
    for (const [figures, printed] of [
      [of(single.bias.value - 2 * single.sd), [-114.3, -45.1]],
      [of(single.bias.value + 2 * single.sd), [40.9, 110.1]],
    ] as const)
      for (const [i, one] of printed.entries()) expect(Math.abs((figures[i] ?? 0) - one)).toBeLessThan(rounding);
    // The app's own, after the later paper, are as wide within 1 %.
    expect((single.lower.high - single.lower.low) / (2 * half)).toBeCloseTo(1, 1);
    expect((single.upper.value - single.upper.low) / half).toBeCloseTo(1.0068, 3);
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
    // The means of two differ with a standard deviation of 33.2.
    expect(sampleStandardDeviation(twice.points.map((one) => one.difference))).toBeCloseTo(33.204136879, 8);
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
