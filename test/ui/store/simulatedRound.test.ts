import { describe, expect, it } from 'vitest';
import { createEar } from '../../../src/audio/createEar.ts';
import { judgeWheel } from '../../../src/spokes/judgeWheel.ts';
import { shiftCheck } from '../../../src/spokes/shiftCheck.ts';
import { createApp, type RunningApp } from '../../../src/ui/store/createApp.ts';
import type { ListenHandlers, Opened } from '../../../src/ui/store/ports.ts';
import { walkOf } from '../../../src/ui/store/viewWalk.ts';
import { hertz } from '../../../src/units.ts';
import { SIMULATED_ENDS, testSpokes } from '../../browser/testWheel.ts';
import { MICROPHONE_RATE_HZ, walkWithClosing } from '../../browser/writeRound.ts';
import { benchWheel } from './benchWheel.ts';
import { EMPTY_SHELF, simulatedPorts, until } from './simulatedPorts.ts';

const HELD = { crossing: 'held', direction: 'inPlane' } as const;

/** A microphone that hears these samples and then falls silent, as fast as the ear takes them. */
function hearing(samples: Float32Array) {
  return (handlers: ListenHandlers): Promise<Opened> => {
    const rate = hertz(MICROPHONE_RATE_HZ);
    const ear = createEar({ sampleRateHz: rate, settings: { sampleRateHz: rate } });
    let open = true;
    const play = async () => {
      for (let at = 0; at < samples.length && open; at += 2048) {
        for (const event of ear.push(samples.subarray(at, at + 2048))) handlers.onEar(event);
        await new Promise((resolve) => setImmediate(resolve));
      }
      handlers.onNews({ kind: 'ended' });
    };
    void play();
    return Promise.resolve({
      ok: true,
      listening: {
        kind: 'microphone',
        settings: { sampleRateHz: rate },
        expect: (expected) => ear.expect(expected),
        holdOff: () => {},
        close: () => {
          open = false;
        },
      },
    });
  };
}

async function walk(
  settings: Omit<Parameters<typeof walkWithClosing>[0], 'spokes'>,
  wheel = benchWheel(),
): Promise<RunningApp> {
  const simulated = simulatedPorts();
  simulated.microphone = hearing(walkWithClosing({ ...settings, spokes: testSpokes() }).samples);
  const app = createApp(simulated.ports, EMPTY_SHELF);
  app.actions.saveWheel(wheel);
  app.actions.openWheel(wheel.id);
  app.actions.startRound({ how: HELD });
  await app.actions.listenToMicrophone();
  await until(app, ({ listening }) => listening.status === 'off');
  await app.measured();
  return app;
}

/** In percent and in standard uncertainties, spoke by spoke; a spoke without a tension is NaN. */
function deviations(app: RunningApp) {
  const { round, measured } = app.store.getState();
  const readings = measured[round?.round.id ?? '']?.readings ?? {};
  return testSpokes().map(({ tensionN }, index) => {
    const reading = readings[index + 1];
    if (!reading?.ok) return { percent: Number.NaN, sigmas: Number.NaN };
    const off = reading.tensionN - tensionN;
    return { percent: (100 * off) / tensionN, sigmas: off / Math.hypot(reading.uOwnN, reading.uCommonN) };
  });
}

describe('a simulated round of 24 spokes at 25 dB, heard and measured without a browser', () => {
  it('with the ends’ stiffness given, every spoke lies within 2 % of the tension that its sound was made from', async () => {
    const { hubSpring } = SIMULATED_ENDS;
    const app = await walk(
      { seed: 24, style: 'single', snrDb: 25 },
      benchWheel({ low: hubSpring * 0.9, high: hubSpring * 1.1 }),
    );
    const { round } = app.store.getState();
    expect(round?.phase).toBe('finished');
    expect(round?.closing?.agrees).toBe(true);
    for (const { percent } of deviations(app)) expect(Math.abs(percent)).toBeLessThan(2);
  }, 60_000);

  it('with ends of which nothing is known, every interval holds the true tension', async () => {
    const app = await walk({ seed: 24, style: 'single', snrDb: 25 });
    for (const { sigmas } of deviations(app)) expect(Math.abs(sigmas)).toBeLessThan(2);
  }, 60_000);

  it('flags the spoke beyond the limit and those off their side, and no other', async () => {
    const app = await walk({ seed: 25, style: 'single', snrDb: 25 });
    const { round, measured, wheels } = app.store.getState();
    const [wheel] = wheels.list;
    if (!wheel || !round) throw new Error('no round');
    const readings = measured[round.round.id]?.readings ?? {};
    const judged = judgeWheel(
      wheel,
      round.round,
      new Map(Object.entries(readings).map(([spoke, reading]) => [Number(spoke), reading])),
    );
    const words = judged.spokes.map(({ number, limit, evenness }) => [number, limit?.word, evenness?.word] as const);
    expect(words.filter(([, limit]) => limit === 'over' || limit === 'under').map(([number]) => number)).toEqual([6]);
    expect(words.filter(([, , even]) => even === 'tight' || even === 'slack')).toEqual([
      [6, 'over', 'tight'],
      [15, 'within', 'slack'],
      [20, 'within', 'slack'],
    ]);
    expect(shiftCheck({ round: round.round, sides: judged.spokes.map((one) => one.side) })).toEqual([]);
  }, 60_000);
});

describe('a hand that slips is not believed silently', () => {
  it.each([
    ['one pluck too many', { extraPluckAt: [5] }],
    ['one spoke passed over', { missedPluckAt: [11] }],
    ['one too many and one passed over', { extraPluckAt: [5], missedPluckAt: [11] }],
  ])(
    '%s: every tone stands with its own spoke, or the round says that places may have slipped',
    async (_name, slip) => {
      const app = await walk({ seed: 7, style: 'single', snrDb: 25, ...slip });
      const { round, measured } = app.store.getState();
      if (!round) throw new Error('no round');
      const readings = measured[round.round.id]?.readings ?? {};
      const misplaced = testSpokes().filter(({ tensionN }, index) => {
        const reading = readings[index + 1];
        return reading?.ok && Math.abs(reading.tensionN / tensionN - 1) > 0.05;
      });
      // That the first spoke was not heard again says nothing of what went before.
      const warnings = shiftCheck(walkOf(round)).filter(({ kind }) => kind !== 'closingMissing');
      if (misplaced.length > 0) expect(warnings.length).toBeGreaterThan(0);
      else expect(Object.keys(readings).length).toBeGreaterThan(20);
    },
    60_000,
  );
});
