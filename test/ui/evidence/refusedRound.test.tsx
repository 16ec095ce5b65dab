// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import { remeasure } from '../../../src/desk/remeasure.ts';
import { prepareMember } from '../../../src/physics/prepareMember.ts';
import { compareMethods } from '../../../src/spokes/compareMethods.ts';
import type { Gauge } from '../../../src/spokes/gauge.ts';
import { judgeWheel } from '../../../src/spokes/judgeWheel.ts';
import { readReadings, writeReadings } from '../../../src/spokes/readingsFile.ts';
import { readRound } from '../../../src/spokes/readRound.ts';
import { readTable } from '../../../src/spokes/readTable.ts';
import { rememberPrepared } from '../../../src/spokes/rememberPrepared.ts';
import { reportCsv } from '../../../src/spokes/reportCsv.ts';
import { reportView } from '../../../src/spokes/reportView.ts';
import type { Round, Wheel } from '../../../src/spokes/wheel.ts';
import { readWheelFile, writeWheelFile } from '../../../src/spokes/wheelFile.ts';
import Compare from '../../../src/ui/screens/evidence/Compare.tsx';
import Report from '../../../src/ui/screens/evidence/Report.tsx';
import Judge from '../../../src/ui/screens/Judge.tsx';
import { hertz } from '../../../src/units.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { SIMULATED, simulatedRound } from '../../spokes/simulatedRound.ts';
import { showScreen } from './showScreen.tsx';

const gauge: Gauge = {
  id: 'g',
  name: 'Bench gauge',
  scale: 'direct',
  unit: 'N',
  rounds: [
    {
      id: 'gr',
      at: '2026-02-04T10:00:00.000Z',
      state: { tyre: 'off' },
      readings: SIMULATED.truth.map((tensionN, i) => ({ spoke: i + 1, values: [Math.round(tensionN)] })),
    },
  ],
};
const bare = plainWheel({ gauges: [gauge] });
const good = simulatedRound(bare);
/** A tone far below what the wire's stiffness alone gives is no spoke's. */
const low: Round = {
  ...good,
  plucks: good.plucks.map((pluck) => ({
    ...pluck,
    tones: pluck.tones.slice(0, 1).map((tone) => ({ ...tone, frequencyHz: hertz(30) })),
    covarianceHz2: [[0.01]],
    hypotheses: [],
  })),
};
const aside: Round = { ...good, plucks: good.plucks.map((pluck) => ({ ...pluck, putAside: true })) };
const prepare = rememberPrepared(prepareMember);

const CASES = [
  ['of which every spoke is refused', low, 'noTones', /32 refused/, 32],
  ['of which every pluck was put aside', aside, 'notHeard', /64 of them put aside/, 0],
] as const;

afterEach(cleanup);
const words = () => document.body.textContent?.replaceAll('\u00a0', ' ') ?? '';

describe.each(CASES)('a round %s', (_, round, reason, counted, refused) => {
  const wheel: Wheel = { ...bare, rounds: [round] };

  it('is compared with no gauge: that is said once, with what to do, and nothing is calibrated by it', async () => {
    showScreen(wheel, Compare);
    await screen.findByText(/gave no spoke a tension, so there is nothing to compare/);
    for (const side of ['left', 'right'])
      expect(words()).toContain(`The ${side} side has fewer than three spokes with both readings`);
    expect(words()).not.toContain('Calibrate in two halves');
    expect(words()).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('is reported as what it is, spoke by spoke, with its gauge readings', async () => {
    showScreen(wheel, Report);
    await screen.findByText(/gave no spoke a tension, so there is nothing to compare/);
    expect(words()).toMatch(counted);
    expect(words()).toContain('0 spokes with a tension');
    expect(words()).not.toMatch(/NaN|Infinity|undefined/);
    expect(document.querySelectorAll('.spoke-rows tbody tr')).toHaveLength(32);
  });

  it('is judged without a figure, and its cautions stay', async () => {
    showScreen(wheel, Judge);
    await screen.findByText(/No spoke has a figure yet/);
    expect(words()).toContain('never clears a wheel to ride');
    expect(words()).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('goes out as table, readings and wheel, each with the reason, and comes back in', () => {
    const readings = readRound(wheel, round, prepare);
    const judgement = judgeWheel(wheel, round, readings.readings, {}, readings.described);
    const table = readTable(reportCsv(reportView(wheel, round, readings, judgement), 'N'));
    expect(table.rows).toHaveLength(32);
    expect(new Set(table.rows.map(({ cells }) => cells.at(-1)))).toEqual(new Set([reason]));
    expect(readReadings(writeReadings('a test', round.id, readings.readings))).toMatchObject({ ok: true });
    const back = readWheelFile(writeWheelFile(wheel));
    expect(back.ok && back.wheel.rounds[0]?.plucks).toHaveLength(64);
  });

  it('is computed again at the desk with a reason for each spoke that was heard', () => {
    const [again] = remeasure(wheel, [{ number: 1, round }]);
    expect(again?.spokes).toHaveLength(refused);
    for (const { ok, advice } of again?.spokes ?? []) {
      expect(ok).toBe(false);
      expect(advice).toMatch(/\S/);
    }
  });

  it('has no side to compare, and both sides are named', () => {
    const second = new Map(SIMULATED.truth.map((tensionN, i) => [i + 1, { valuesN: [tensionN], uN: 20 }]));
    const sides = SIMULATED.truth.map((__, i) => (i % 2 === 0 ? 'right' : 'left') as 'left' | 'right');
    expect(compareMethods([new Map()], second, sides)).toEqual({ sides: [], tooFew: ['left', 'right'] });
  });
});
