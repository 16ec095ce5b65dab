import { describe, expect, it } from 'vitest';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { judgeWheel } from '../../src/spokes/judgeWheel.ts';
import { readRound } from '../../src/spokes/readRound.ts';
import { relativeTensions } from '../../src/spokes/relativeTensions.ts';
import { rememberPrepared } from '../../src/spokes/rememberPrepared.ts';
import { shiftCheck } from '../../src/spokes/shiftCheck.ts';
import { plainWheel } from './plainWheel.ts';
import { SIMULATED, simulatedRound } from './simulatedRound.ts';

const { truth } = SIMULATED;
const count = truth.length;

describe('a round, from its plucks to the verdict', () => {
  const limits = { maximumN: 1150, unit: 'N', source: 'test', state: { tyre: 'off' } } as const;
  const wheel = plainWheel({}, { limits });
  const prepare = rememberPrepared(prepareMember);
  const round = simulatedRound(wheel);
  const result = readRound(wheel, round, prepare);
  const relative = (spoke: number) => {
    const reading = result.readings.get(spoke);
    return reading?.ok ? reading.tensionN / (truth[spoke - 1] ?? 1) - 1 : Number.NaN;
  };

  it('reads every spoke within three of its own stated uncertainties, common part included', () => {
    expect(result.readings.size).toBe(count);
    for (const [spoke, reading] of result.readings) {
      if (!reading.ok) throw new Error(`spoke ${spoke}: ${reading.reason}`);
      const u = Math.hypot(reading.uOwnN, reading.uCommonN) / reading.tensionN;
      expect(Math.abs(relative(spoke)), `spoke ${spoke}`).toBeLessThan(3 * u);
    }
  });

  it('flags the spoke beyond its limit and the two that are off, and no other', () => {
    const judged = judgeWheel(wheel, round, result.readings, {}, result.described);
    expect(judged.spokes.filter((one) => one.outlierZ !== undefined).map((one) => one.number)).toEqual([5, 10]);
    const words = (word: string) => judged.spokes.filter((one) => one.limit?.word === word).map((one) => one.number);
    expect([...words('over'), ...words('probablyOver')]).toEqual([5]);
    expect(
      judged.spokes
        .filter((one) => one.evenness?.word === 'tight' || one.evenness?.word === 'slack')
        .map((one) => one.number),
    ).toEqual([5, 10]);
    expect(judged.ratio?.agrees).toBe(true);
    const slips = shiftCheck({ round, sides: judged.spokes.map((one) => one.side) });
    expect(slips.map((one) => one.kind)).toEqual(['closingMissing']);
    expect(judged.sides.left?.statistics.count).toBe(16);
  });

  it('weighs a known tension in: the common part of the uncertainty shrinks', () => {
    const known = { id: 'c', kind: 'inWheel', spoke: 3, loadN: truth[2] ?? 0, uLoadN: 10, method: 'test' } as const;
    const calibrated = readRound({ ...wheel, calibrations: [known] }, round, prepare);
    const common = (readings: typeof result) => {
      const reading = readings.readings.get(1);
      return reading?.ok ? reading.uCommonN : Number.NaN;
    };
    expect(common(calibrated)).toBeLessThan(0.8 * common(result));
    expect(calibrated.readings.size).toBe(count);
  });

  it('states the part of where the sections end as large as the file says it is unsure', () => {
    const partOf = (sectionsMm?: number) => {
      const stated = plainWheel({}, sectionsMm === undefined ? { limits } : { limits, uncertainty: { sectionsMm } });
      const reading = readRound(stated, round, prepare).readings.get(1);
      if (!reading?.ok) throw new Error(reading?.reason);
      return reading.contributions
        .filter(({ input }) => input === 'sections')
        .reduce((sum, { uN }) => Math.hypot(sum, uN), 0);
    };
    // Six times the uncertainty of the default; the tones themselves tell next to nothing of the visible nipple's border.
    expect(partOf(9)).toBeGreaterThan(3 * partOf());
    expect(partOf(0.1)).toBeLessThan(0.2 * partOf());
  });

  it('says what is missing where a spoke is not described', () => {
    const broken = readRound({ ...wheel, kinds: {} }, round, prepare);
    expect(broken.readings.get(1)).toEqual({
      ok: false,
      reason: 'memberIncomplete',
      detail: 'sides.right.kindId plain-2.0',
    });
  });

  it('without any description still ranks the spokes of a side, within the stated bounds', () => {
    const used = new Map(truth.map((_, i) => [i + 1, round.plucks.filter((one) => one.spoke === i + 1)]));
    const sides = truth.map((_, i) => (i % 2 === 0 ? ('right' as const) : ('left' as const)));
    const relatives = relativeTensions(used, sides);
    expect(relatives).toHaveLength(count);
    for (const { spoke, side, deviationPercent, uPercent } of relatives) {
      const own = truth.filter((_, i) => sides[i] === side);
      const mean = own.reduce((sum, value) => sum + value, 0) / own.length;
      const deviation = 100 * ((truth[spoke - 1] ?? 0) / mean - 1);
      expect(Math.abs(deviationPercent - deviation), `spoke ${spoke}`).toBeLessThan(3 * uPercent);
    }
  });
});
