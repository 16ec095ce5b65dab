import fc from 'fast-check';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { correlation } from '../../src/spokes/agreement.ts';
import { catalogueKind } from '../../src/spokes/catalogue.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { leastSquaresLine } from '../../src/spokes/leastSquaresLine.ts';
import { propagate } from '../../src/spokes/propagate.ts';
import { stateCorrection } from '../../src/spokes/stateCorrection.ts';
import { studentFactor } from '../../src/spokes/studentT.ts';
import type { LacedLayout, Rim, SpokeKind, WheelState } from '../../src/spokes/wheel.ts';
import { newtons } from '../../src/units.ts';
import { plainWheel } from './plainWheel.ts';
import { NORRIS, THERMOMETER } from './publishedData.ts';

describe('propagation of uncertainty', () => {
  it('gives the end gauge of the GUM its length, uncertainty and degrees of freedom', () => {
    // JCGM 100:2008, H.1 (nm, K): l = 50 000 838 nm, u = 32 nm, ν = 16, U99 = 93 nm.
    const rectangular = (half: number) => half / Math.sqrt(3);
    const length = ([ls = 0, d = 0, dAlpha = 0, dTheta = 0, alpha = 0, theta = 0]: readonly number[]) => [
      ls + d - ls * (dAlpha * theta + alpha * dTheta),
    ];
    const result = propagate(length, [
      { value: 50_000_623, u: 25, degrees: 18 },
      { value: 215, u: 9.7, degrees: 25.6 },
      { value: 0, u: rectangular(1e-6), degrees: 50 },
      { value: 0, u: rectangular(0.05), degrees: 2 },
      { value: 11.5e-6, u: rectangular(2e-6) },
      { value: -0.1, u: Math.hypot(0.2, 0.5 / Math.SQRT2) },
    ]);
    expect(result.values[0]).toBeCloseTo(50_000_838, 0);
    expect(result.u[0]).toBeCloseTo(31.66, 1);
    expect(Math.floor(result.degrees[0] ?? 0)).toBe(16);
    expect(Math.round(studentFactor(0.99, 16) * Math.round(result.u[0] ?? 0))).toBe(93);
  });

  it('gives resistance, reactance and impedance of the GUM from correlated readings', () => {
    // JCGM 100:2008, H.2: R 127.732 (0.071), X 219.847 (0.295), Z 254.260 (0.236) Ω; r −0.588, −0.485, 0.993.
    const readings = [
      [5.007, 4.994, 5.005, 4.99, 4.999],
      [0.019663, 0.019639, 0.01964, 0.019685, 0.019678],
      [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
    ];
    const inputs = readings.map((values) => ({
      value: mean(values),
      u: sampleStandardDeviation(values) / Math.sqrt(5),
    }));
    const correlations = readings.map((a) => readings.map((b) => correlation(a, b)));
    const { values, u, covariance } = propagate(
      ([v = 0, i = 1, phi = 0]) => [(v / i) * Math.cos(phi), (v / i) * Math.sin(phi), v / i],
      inputs,
      correlations,
    );
    for (const [k, expected] of [127.73217, 219.84651, 254.2597].entries()) expect(values[k]).toBeCloseTo(expected, 4);
    for (const [k, expected] of [0.0710714, 0.2955817, 0.2363361].entries()) expect(u[k]).toBeCloseTo(expected, 5);
    const r = (a: number, b: number) => (covariance[a]?.[b] ?? 0) / ((u[a] ?? 1) * (u[b] ?? 1));
    expect(r(0, 1)).toBeCloseTo(-0.5884, 3);
    expect(r(0, 2)).toBeCloseTo(-0.4853, 3);
    expect(r(1, 2)).toBeCloseTo(0.9925, 3);
  });

  it('of a sum is the root of the sum of squares', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 10, noNaN: true }), { minLength: 1, maxLength: 6 }), (us) => {
        const { u } = propagate(
          (inputs) => [inputs.reduce((sum, value) => sum + value, 0)],
          us.map((one) => ({ value: 1, u: one })),
        );
        expect(u[0]).toBeCloseTo(Math.hypot(...us), 9);
      }),
    );
  });
});

describe('the least-squares line', () => {
  it('is the thermometer’s of the GUM', () => {
    // JCGM 100:2008, H.3: y1 −0.1712 (0.0029), y2 0.00218 (0.00067), r −0.930, s 0.0035, b(30 °C) −0.1494 (0.0041).
    const { t, b } = THERMOMETER;
    const line = leastSquaresLine(t, b, 20);
    if (!line) throw new Error('no line');
    expect(line.intercept).toBeCloseTo(-0.1712038, 6);
    expect(line.uIntercept).toBeCloseTo(0.0028776, 6);
    expect(line.slope).toBeCloseTo(0.0021827, 7);
    expect(line.uSlope).toBeCloseTo(0.00066794, 7);
    expect(line.correlation).toBeCloseTo(-0.93043, 5);
    expect(line.residualSd).toBeCloseTo(0.00349756, 7);
    expect(line.at(30).value).toBeCloseTo(-0.1493768, 6);
    expect(line.at(30).u).toBeCloseTo(0.0041386, 6);
  });

  it('has the certified values of the Norris data', () => {
    // NIST Statistical Reference Datasets, Norris: certified to 15 digits.
    const { x, y } = NORRIS;
    const line = leastSquaresLine(x, y);
    if (!line) throw new Error('no line');
    expect(line.intercept).toBeCloseTo(-0.262323073774029, 11);
    expect(line.uIntercept).toBeCloseTo(0.232818234301152, 11);
    expect(line.slope).toBeCloseTo(1.00211681802045, 13);
    expect(line.uSlope).toBeCloseTo(0.000429796848199937, 13);
  });
});

describe('correction to another state of the wheel', () => {
  const wheelWith = (rim: Partial<Rim>, kind: SpokeKind = catalogueKind('plain-2.0')) => {
    const wheel = plainWheel({}, {}, kind);
    const layout = wheel.layout as LacedLayout;
    return { ...wheel, layout: { ...layout, rim: { ...layout.rim, ...rim } } };
  };
  const correct = (rim: Partial<Rim>, from: WheelState, to: WheelState, kind?: SpokeKind) => {
    const wheel = wheelWith(rim, kind);
    const spoke = describeMember(wheel, 1);
    if (!spoke.ok) throw new Error(spoke.reason);
    return stateCorrection(wheel, spoke, newtons(1000), from, to);
  };
  const at = (temperatureC: number): WheelState => ({ tyre: 'off', temperatureC });
  const medium = { material: 'aluminium', stiffnessClass: 'medium' } as const;

  it('for 20 K on an aluminium rim stays below the bound of a rigid rim and above half of it', () => {
    // Rigid rim: E A (α_rim − α_spoke) Δθ = 190 GPa · 3.1416 mm² · (23.5 − 16.0)·10⁻⁶ · 20 = 89.5 N (the nipple stiffens it by 2 %).
    const result = correct(medium, at(10), at(30));
    if (!result.ok) throw new Error(result.reason);
    expect(result.shift).toBeLessThan(89.5 * 1.03);
    expect(result.shift).toBeGreaterThan(89.5 / 2);
    expect(result.u).toBeGreaterThan(0);
  });

  it('goes the other way on a composite rim, and the other way round in the cold', () => {
    const composite = { material: 'composite', stiffnessClass: 'stiff' } as const;
    const warm = correct(composite, at(10), at(30));
    const cold = correct(composite, at(30), at(10));
    expect(warm.ok && warm.shift).toBeLessThan(0);
    expect(cold.ok && cold.shift).toBeGreaterThan(0);
  });

  it('for a tyre is as broad as practice knows it', () => {
    const result = correct(medium, { tyre: 'on', pressureBar: 6 }, { tyre: 'off' });
    if (!result.ok) throw new Error(result.reason);
    // 5 to 15 % of the tension without tyre: 111 N on 1000 N heard, with 36 N.
    expect(result.shift).toBeCloseTo(1000 / 0.9 - 1000, 6);
    expect(result.u).toBeGreaterThan(30);
  });

  it.each([
    [{ material: 'aluminium' } as const, at(10), at(30), 'rimClassMissing'],
    [{ material: 'unknown', stiffnessClass: 'medium' } as const, at(10), at(30), 'rimMaterialUnknown'],
    [medium, { tyre: 'unknown' } as const, { tyre: 'off' } as const, 'tyreUnknown'],
    [medium, { tyre: 'on', pressureBar: 6 } as const, { tyre: 'on', pressureBar: 3 } as const, 'pressureDiffers'],
    [medium, { tyre: 'off' } as const, at(20), 'temperatureMissing'],
  ])('is refused for %j from %j to %j', (rim, from, to, reason) => {
    expect(correct(rim, from, to)).toEqual({ ok: false, reason });
  });
});
