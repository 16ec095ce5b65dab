import { describe, expect, it } from 'vitest';
import { deming } from '../../src/spokes/deming.ts';
import { errorsInBoth } from '../../src/spokes/errorsInBoth.ts';
import { leastSquaresLine } from '../../src/spokes/leastSquaresLine.ts';
import { passingBablok } from '../../src/spokes/passingBablok.ts';
import { ARSENATE, PEAK_FLOW, PEARSON_YORK } from './publishedData.ts';

/** Normal factor of 95 %. */
const Z = 1.959963984540054;

const { wright1, mini1 } = PEAK_FLOW;
const fitted = <Result extends { ok: boolean }>(result: Result): Extract<Result, { ok: true }> => {
  if (!result.ok) throw new Error(JSON.stringify(result));
  return result as Extract<Result, { ok: true }>;
};

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

  it('has beside it the ordinary lines of the same data', () => {
    // Same package; for arsenate Ripley & Thompson (1987): 0.544, 0.845, and −0.299, 1.089 the other way round.
    for (const [one, other, intercept, slope, digits] of [
      [x, y, 0.1, 2.27272727273, 10],
      [ARSENATE.x, ARSENATE.y, 0.544, 0.845, 3],
      [ARSENATE.y, ARSENATE.x, -0.299, 1.089, 3],
    ] as const) {
      const line = leastSquaresLine(one, other);
      expect(line?.intercept).toBeCloseTo(intercept, digits);
      expect(line?.slope).toBeCloseTo(slope, digits);
    }
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

  it('has the standard errors of York’s rule for arsenate; the other program’s are those of the observed x', () => {
    const fit = fitted(errorsInBoth(pairs));
    const [a, b] = [fit.intercept.value, fit.slope.value];
    const weights = pairs.map(({ ux, uy }) => 1 / (uy ** 2 + b ** 2 * ux ** 2));
    const sum = (of: (i: number) => number) => weights.reduce((all, weight, i) => all + weight * of(i), 0);
    // York et al. (2004), eq. 13: variances 1/ΣW(x − x̄)² of the slope and 1/ΣW + x̄² times that of the intercept, at whichever x.
    const standardErrors = (xs: readonly number[]) => {
      const centre = sum((i) => xs[i] ?? 0) / sum(() => 1);
      const slope = 1 / sum((i) => ((xs[i] ?? 0) - centre) ** 2);
      return { intercept: Math.sqrt(1 / sum(() => 1) + centre ** 2 * slope), slope: Math.sqrt(slope) };
    };
    // At the x as observed they are the other program’s, to all digits that it prints: that is its rule.
    const observed = standardErrors(pairs.map(({ x }) => x));
    expect(observed.intercept).toBeCloseTo(0.0494172, 7);
    expect(observed.slope).toBeCloseTo(0.0748109, 7);
    // York’s x is the likeliest of each pair: where (x − X)²/u_x² + (y − a − bX)²/u_y² is least. No published figure for these data is known;
    // the rule itself is held against York’s own table below. The two rules differ here by 2.5 and 2.4 %.
    const likeliest = standardErrors(
      pairs.map(({ x, ux, y, uy }) => (x / ux ** 2 + (b * (y - a)) / uy ** 2) / (1 / ux ** 2 + (b / uy) ** 2)),
    );
    expect((fit.intercept.high - a) / Z).toBeCloseTo(likeliest.intercept, 9);
    expect((fit.slope.high - b) / Z).toBeCloseTo(likeliest.slope, 9);
  });

  it('is the weighted line published for arsenate where only y errs', () => {
    // Ripley & Thompson (1987), weights 1/u²: intercept 0.005, slope 0.890.
    const fit = fitted(errorsInBoth(pairs.map((pair) => ({ ...pair, ux: 0 }))));
    expect(fit.intercept.value).toBeCloseTo(0.005, 3);
    expect(fit.slope.value).toBeCloseTo(0.89, 3);
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
