import { describe, expect, it } from 'vitest';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { type CalibrationPair, calibrateGauge, type GaugeCalibration } from '../../src/spokes/calibrateGauge.ts';
import type { SecondReading } from '../../src/spokes/compareMethods.ts';
import { crossCalibrate } from '../../src/spokes/crossCalibrate.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { judgeLeftOut } from '../../src/spokes/judgeLeftOut.ts';
import { leastSquaresLine } from '../../src/spokes/leastSquaresLine.ts';
import { readRound } from '../../src/spokes/readRound.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import { seededRandom } from '../signals/random.ts';
import { plainWheel } from './plainWheel.ts';
import { NORRIS, THERMOMETER } from './publishedData.ts';
import { SIMULATED, simulatedRound } from './simulatedRound.ts';

const calibrated = (pairs: readonly CalibrationPair[], shows: 'tension' | 'marks'): GaugeCalibration => {
  const result = calibrateGauge(pairs, shows);
  if (!result.ok) throw new Error(result.reason);
  return result;
};
/** Pairs as a line through plain data needs them: all ears alike, no repeats. */
const plain = (x: readonly number[], y: readonly number[]): CalibrationPair[] =>
  x.map((value, i) => ({ spoke: i + 1, shown: [value], earN: y[i] ?? 0, uOwnN: 1e3, uCommonN: 0 }));

interface Truth {
  /** The gauge shows true tension over this. */
  readonly factor: number;
  /** Of one of its readings, relative. */
  readonly scatter: number;
  readonly uOwn: number;
  /** By which the ear is off for all spokes alike, relative. */
  readonly earOff: number;
  readonly repeats: number;
  readonly spokes: number;
}
const TRUTH: Truth = { factor: 1.06, scatter: 0.012, uOwn: 0.006, earOff: 0, repeats: 2, spokes: 16 };

function pairsOf(seed: string, change: Partial<Truth> = {}): CalibrationPair[] {
  const { factor, scatter, uOwn, earOff, repeats, spokes } = { ...TRUTH, ...change };
  const random = seededRandom(seed);
  return Array.from({ length: spokes }, (_, i) => {
    const trueN = 950 * (1 + 0.05 * random.normal());
    return {
      spoke: i + 1,
      shown: Array.from({ length: repeats }, () => (trueN / factor) * (1 + scatter * random.normal())),
      earN: trueN * (1 + earOff + uOwn * random.normal()),
      uOwnN: uOwn * trueN,
      uCommonN: 0.03 * trueN,
    };
  });
}

describe('a gauge calibrated by ear', () => {
  it('gets back the factor it was made with, and its interval holds it 19 times in 20', () => {
    const trials = 400;
    let held = 0;
    let sum = 0;
    for (let i = 0; i < trials; i++) {
      const { slope } = calibrated(pairsOf(`factor ${i}`), 'tension');
      sum += slope.value / trials;
      if (slope.low <= TRUTH.factor && TRUTH.factor <= slope.high) held++;
    }
    expect(Math.abs(sum / TRUTH.factor - 1)).toBeLessThan(0.001);
    // Binomial, 400 trials of 0.95: two standard deviations are 2.2 %.
    expect(held / trials).toBeGreaterThan(0.928);
    expect(held / trials).toBeLessThan(0.972);
  });

  it('carries the ear’s own scale error along, says how large it may be, and does not average it away', () => {
    const few = calibrated(pairsOf('scale', { earOff: 0.03, spokes: 8 }), 'tension');
    const many = calibrated(pairsOf('scale', { earOff: 0.03, spokes: 60 }), 'tension');
    for (const one of [few, many]) {
      expect(one.uCommonRelative).toBeCloseTo(0.03 / 1.03, 2);
      const point = one.chart[2];
      if (!point) throw new Error('no chart');
      expect(point.uN / point.tensionN).toBeGreaterThan(0.028);
      expect(Math.abs(one.slope.value / TRUTH.factor - 1)).toBeLessThan(2 * 0.03);
    }
  });

  it('judges every spoke by the fit without it: what is left out scatters as both methods let expect', () => {
    let square = 0;
    let expected = 0;
    for (let i = 0; i < 200; i++) {
      const { leftOut } = calibrated(pairsOf(`left out ${i}`), 'tension');
      square += leftOut.rmsN ** 2;
      expected += leftOut.expectedN ** 2;
    }
    // 3200 differences: their root mean square is known to 1.3 %.
    expect(Math.abs(Math.sqrt(square / expected) - 1)).toBeLessThan(0.04);
  });

  it('does not let a misread spoke excuse itself', () => {
    const pairs = pairsOf('misread');
    const wrong = pairs.map((pair, i) =>
      i === 4 ? { ...pair, shown: pair.shown.map((value) => 1.15 * value) } : pair,
    );
    const { leftOut } = calibrated(wrong, 'tension');
    expect(leftOut.beyond.map((one) => one.spoke)).toContain(5);
    const fifth = leftOut.differences[4];
    const clean = calibrated(
      pairs.filter((_, i) => i !== 4),
      'tension',
    );
    const gauge = (wrong[4]?.shown ?? []).reduce((sum, value) => sum + value, 0) / 2;
    expect(fifth?.differenceN).toBeCloseTo((wrong[4]?.earN ?? 0) - clean.slope.value * gauge, -1);
  });

  it('does not make marks agree that have nothing to do with tension', () => {
    // In-sample a line always gains on its own points; judged on spokes it has not seen it must not.
    let better = 0;
    for (let i = 0; i < 40; i++) {
      const random = seededRandom(`noise ${i}`);
      const pairs = pairsOf(`noise ${i}`).map((pair) => ({ ...pair, shown: [20 + random.normal()] }));
      const ear = pairs.map((pair) => pair.earN);
      const mean = ear.reduce((sum, value) => sum + value, 0) / ear.length;
      const spread = Math.sqrt(ear.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (ear.length - 1));
      if (calibrated(pairs, 'marks').leftOut.rmsN < 0.95 * spread) better++;
    }
    expect(better).toBeLessThanOrEqual(4);
  });

  it('read once a spoke leaves its scatter untested, and says so', () => {
    const { leftOut, scatter } = calibrated(pairsOf('once', { repeats: 1 }), 'tension');
    expect(scatter.from).toBe('residuals');
    expect(leftOut.word).toBe('untested');
    expect(calibrated(pairsOf('twice'), 'tension').leftOut.word).toBe('asExpected');
  });

  it('that scatters more than its repeats say is found out', () => {
    // Repeats agree closely, yet from spoke to spoke the gauge is off by 4 %: it sits differently on each.
    const random = seededRandom('seat');
    const pairs = pairsOf('seat', { scatter: 0.003 }).map((pair) => {
      const seat = 1 + 0.04 * random.normal();
      return { ...pair, shown: pair.shown.map((value) => value * seat) };
    });
    expect(calibrated(pairs, 'tension').leftOut.word).toBe('scattered');
  });

  it('of fewer than five spokes is refused, and so are marks all alike', () => {
    expect(calibrateGauge(pairsOf('few', { spokes: 4 }), 'tension')).toMatchObject({
      ok: false,
      reason: 'tooFewPairs',
    });
    const alike = pairsOf('alike').map((pair) => ({ ...pair, shown: [20] }));
    expect(calibrateGauge(alike, 'marks')).toMatchObject({ ok: false, reason: 'noSpread' });
  });
});

describe('the calibration line and its left-out cases, from outside', () => {
  it('is the certified line of the Norris data where only y errs', () => {
    // NIST Statistical Reference Datasets, Norris: −0.262323073774029 and 1.00211681802045.
    const { slope, intercept } = calibrated(plain(NORRIS.x, NORRIS.y), 'marks');
    expect(slope.value).toBeCloseTo(1.00211681802045, 8);
    expect(intercept?.value).toBeCloseTo(-0.262323073774029, 5);
  });

  it('predicts a left-out case as the closed form does', () => {
    // Allen, Technometrics 16 (1974) 125: the left-out residual is e/(1 − h), h the case’s leverage.
    const { x, y } = NORRIS;
    const line = leastSquaresLine(x, y);
    if (!line) throw new Error('no line');
    const mean = x.reduce((sum, value) => sum + value, 0) / x.length;
    const sxx = x.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    const { differences } = calibrated(plain(x, y), 'marks').leftOut;
    for (const [i, value] of x.entries()) {
      const leverage = 1 / x.length + (value - mean) ** 2 / sxx;
      const residual = (y[i] ?? 0) - line.at(value).value;
      expect(differences[i]?.differenceN).toBeCloseTo(residual / (1 - leverage), 5);
    }
  });

  it('has the thermometer’s line, and the jackknife its standard errors to a fifth', () => {
    // JCGM 100:2008, H.3: slope 0.00218 (0.00067); correction at 30 °C −0.1494. Eleven points: two jackknives differ by some 20 %.
    const { t, b } = THERMOMETER;
    const { slope, intercept } = calibrated(
      plain(
        t,
        b.map((value) => value),
      ),
      'marks',
    );
    expect(slope.value).toBeCloseTo(0.0021827, 6);
    expect((intercept?.value ?? 0) + 30 * slope.value).toBeCloseTo(-0.1493768, 5);
    // Student’s factor of 9 degrees: 2.262157.
    expect(Math.abs((slope.high - slope.value) / 2.262157 / 0.00066794 - 1)).toBeLessThan(0.2);
  });

  it('says the word only where a scatter from elsewhere tests it', () => {
    const differences = Array.from({ length: 16 }, (_, i) => ({ spoke: i + 1, differenceN: i % 2 ? 30 : -30, uN: 10 }));
    expect(judgeLeftOut(differences, true)).toMatchObject({ word: 'scattered', rmsN: 30, expectedN: 10 });
    expect(judgeLeftOut(differences, true).beyond).toHaveLength(16);
    expect(judgeLeftOut(differences, false).word).toBe('untested');
  });
});

describe('the ear calibrated by a gauge', () => {
  const wheel = plainWheel();
  const laid = expandLayout(wheel.layout);
  const sides = laid.ok ? laid.spokes.map((spoke) => spoke.side) : [];
  const round = simulatedRound(wheel);
  const prepare = rememberPrepared(prepareMember);
  const gauge = (off: number, uPercent: number): ReadonlyMap<number, SecondReading> =>
    new Map(
      SIMULATED.truth.map((value, i) => {
        const [a, b] = [1.004, 0.996].map((factor) => factor * (1 + off) * value) as [number, number];
        return [i + 1, { valuesN: i % 2 ? [a, b] : [b, a], uN: (uPercent / 100) * value }];
      }),
    );

  it('is as sure as the gauge’s scale and the ear’s together, not surer for sixteen readings of one gauge', {
    timeout: 60_000,
  }, () => {
    const before = readRound(wheel, round, prepare).readings;
    const { readings } = crossCalibrate(wheel, round, gauge(0, 2), sides, prepare);
    for (const [spoke, reading] of readings) {
      const plainReading = before.get(spoke);
      if (!reading.ok || !plainReading?.ok) throw new Error(`spoke ${spoke}`);
      const ear = plainReading.uCommonN / plainReading.tensionN;
      // Two independent scales, weighted: 1/u² = 1/u_ear² + 1/u_gauge².
      const together = 1 / Math.hypot(1 / ear, 1 / 0.02);
      expect(reading.uCommonN / reading.tensionN, `spoke ${spoke}`).toBeGreaterThan(0.9 * together);
    }
  });

  it('is judged within sides by what neither method shares, so that a gauge 5 % off does not look like scatter', {
    timeout: 60_000,
  }, () => {
    const { sides: judged } = crossCalibrate(wheel, round, gauge(0.05, 3), sides, prepare);
    expect(judged.map(({ side, leftOut }) => [side, leftOut.count])).toEqual([
      ['left', 16],
      ['right', 16],
    ]);
    for (const { leftOut } of judged) expect(leftOut.expectedN).toBeLessThan(30);
  });
});
