import { describe, expect, it } from 'vitest';
import type { Reading } from '../../src/contract.ts';
import { compareMethods, type SecondReading } from '../../src/spokes/compareMethods.ts';
import { crossCalibrate } from '../../src/spokes/crossCalibrate.ts';
import { reportView } from '../../src/spokes/reportView.ts';
import { rereadRound } from '../../src/spokes/rereadRound.ts';
import { newtons } from '../../src/units.ts';
import { judgement, prepare, readings, report, round, sides, truth, wheel } from './simulatedReport.ts';

const ear = (values: readonly number[], uOwn = 5, uCommon = 0): ReadonlyMap<number, Reading> =>
  new Map(
    values.map((tensionN, i) => [
      i + 1,
      {
        ok: true,
        tensionN: newtons(tensionN),
        uOwnN: newtons(uOwn),
        uCommonN: newtons(uCommon),
        assignment: [],
        agreement: 1,
        contributions: [],
      },
    ]),
  );
const gauge = (values: readonly (readonly number[])[], uN = 10): ReadonlyMap<number, SecondReading> =>
  new Map(values.map((valuesN, i) => [i + 1, { valuesN, uN }]));
/** Scatter without a trend on each side, of mean zero and standard deviation about 1. */
const wobble = (i: number) => [1.2, -0.8, 0.3, -1.4, 0.9, -0.3, 1.1, -1.0][(Math.floor(i / 2) * 3) % 8] ?? 0;

describe('two methods side by side', () => {
  it('are compared within sides, so that the sides’ difference flatters nobody', () => {
    const { sides: compared } = compareMethods(
      [ear(truth)],
      gauge(truth.map((value, i) => [value + 8 * wobble(i)])),
      sides,
    );
    expect(compared.map((one) => [one.side, one.agreement.count])).toEqual([
      ['left', 16],
      ['right', 16],
    ]);
    for (const one of compared) expect(one.conclusion).toBe('agree');
  });

  it('that differ by a constant are biased, by a factor proportional, by more than they say scattered', () => {
    const conclusion = (second: (value: number, i: number) => number) =>
      compareMethods([ear(truth)], gauge(truth.map((value, i) => [second(value, i)])), sides).sides.map(
        (one) => one.conclusion,
      );
    expect(conclusion((value, i) => value + 60 + 5 * wobble(i))).toEqual(['biased', 'biased']);
    expect(conclusion((value, i) => 0.7 * value + 2 * wobble(i))).toEqual(['proportional', 'proportional']);
    expect(conclusion((value, i) => value + 80 * wobble(i))[1]).toBe('scattered');
  });

  it('name the spokes that disagree beyond both uncertainties', () => {
    const second = truth.map((value, i) => [i === 6 ? value + 100 : value]);
    const { sides: compared } = compareMethods([ear(truth, 5, 15)], gauge(second), sides);
    const all = compared.flatMap((one) => one.disagreeing);
    expect(all.map((one) => one.spoke)).toEqual([7]);
    expect(all[0]?.differenceN).toBeCloseTo(-100, 9);
    expect(all[0]?.expandedN).toBeCloseTo(2 * Math.hypot(5, 15, 10), 9);
  });

  it('take the ratio for Deming’s line from their own repeats where both have them', () => {
    const twice = gauge(truth.map((value, i) => [value + 10 * wobble(i), value + 10 * wobble(i + 1)]));
    const rounds = [
      ear(truth.map((value, i) => value + 2 * wobble(i + 2))),
      ear(truth.map((value, i) => value + 2 * wobble(i + 5))),
    ];
    const [left] = compareMethods(rounds, twice, sides).sides;
    expect(left?.deming?.ratioFrom).toBe('repeats');
    expect(left?.deming?.ratio ?? 1).toBeLessThan(0.2);
    const [single] = compareMethods(
      [ear(truth, 5)],
      gauge(
        truth.map((value) => [value]),
        10,
      ),
      sides,
    ).sides;
    expect(single?.deming).toMatchObject({ ratio: 0.25, ratioFrom: 'uncertainties' });
    // One round by ear, two readings by the gauge: its mean of two scatters by s²/2, whatever it states of its scale.
    const [mixed] = compareMethods([ear(truth, 5)], gauge(truth.map((value) => [value + 6, value - 6])), sides).sides;
    expect(mixed?.deming?.ratioFrom).toBe('mixed');
    expect(mixed?.deming?.ratio).toBeCloseTo(5 ** 2 / (72 / 2), 9);
  });

  it('with two pairs a side are not compared, and that is said', () => {
    const few = new Map([...gauge(truth.map((value) => [value]))].slice(0, 4));
    expect(compareMethods([ear(truth)], few, sides)).toEqual({ sides: [], tooFew: ['left', 'right'] });
  });
});

describe('calibrating by the second method', () => {
  it('never lets a spoke see its own tension', () => {
    // One gauge reading is false by 30 %: it must not pull its own spoke along.
    const second = gauge(
      truth.map((value, i) => [i === 8 ? 1.3 * value : value]),
      30,
    );
    const { readings: calibrated, halves } = crossCalibrate(wheel, round, second, sides, prepare);
    expect([...halves[0], ...halves[1]].toSorted((a, b) => a - b)).toEqual(truth.map((_, i) => i + 1));
    const own = calibrated.get(9);
    expect(own?.ok && Math.abs(own.tensionN / (truth[8] ?? 1) - 1) < 0.08).toBe(true);
    expect(calibrated.size).toBe(32);
  });

  it('leaves out a spoke whose tension was known by other means, in the wheel or at another time', () => {
    const load = { kind: 'inWheel', uLoadN: 10, method: 'load cell' } as const;
    const known = [
      { ...load, id: 'a', spoke: 3, loadN: truth[2] ?? 0 },
      { ...load, id: 'b', spoke: 8, loadN: truth[7] ?? 0, roundId: 'gone' },
    ];
    const second = gauge(
      truth.map((value) => [value]),
      30,
    );
    const { readings: calibrated, halves } = crossCalibrate(
      { ...wheel, calibrations: known },
      round,
      second,
      sides,
      prepare,
    );
    for (const spoke of [3, 8]) {
      expect([...halves[0], ...halves[1]]).not.toContain(spoke);
      expect(calibrated.has(spoke)).toBe(false);
    }
    expect(calibrated.size).toBe(30);
  });
});

describe('a round that was measured elsewhere', () => {
  it('makes the very report that the measuring itself makes', () => {
    const again = rereadRound(
      wheel,
      round,
      Object.fromEntries(readings.readings),
      Object.fromEntries(readings.learned),
    );
    expect([...again.used]).toEqual([...readings.used]);
    expect([...again.described]).toEqual([...readings.described]);
    expect(reportView(wheel, round, again, judgement)).toEqual(report);
  });
});
