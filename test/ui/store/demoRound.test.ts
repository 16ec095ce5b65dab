import { describe, expect, it } from 'vitest';
import type { MeasuredRound } from '../../../src/ui/store/appState.ts';
import { createApp } from '../../../src/ui/store/createApp.ts';
import { demoOf } from '../../../src/ui/store/demoWheels.ts';
import { EMPTY_SHELF, simulatedPorts, until } from './simulatedPorts.ts';

const NOTHING: Pick<MeasuredRound, 'readings'> = { readings: {} };
const HELD = { crossing: 'held', direction: 'inPlane' } as const;

describe.each(['steelRear', 'compositeRear'] as const)('the demo %s, from the tap to the verdict', (name) => {
  it('walks the whole wheel by itself, and the intervals hold the tensions its sound was made from', async () => {
    const simulated = simulatedPorts();
    const app = createApp(simulated.ports, EMPTY_SHELF);
    const id = app.actions.openDemo(name);
    app.actions.startRound({ how: HELD });
    await app.actions.listenToDemo({ aloud: false, speed: 'fast' });
    const state = await until(app, ({ round }) => round?.phase === 'finished');
    app.actions.stopListening();
    await app.measured();
    const truth = demoOf(id)?.tensionsN ?? [];
    expect(state.round?.settled).toHaveLength(truth.length);
    expect(state.round?.closing?.agrees).toBe(true);
    const round = app.store.getState().wheels.list[0]?.rounds[0];
    expect(round?.finishedAt).toBeDefined();
    const { readings } = app.store.getState().measured[round?.id ?? ''] ?? NOTHING;
    const rows = truth.map((tensionN, index) => {
      const reading = readings[index + 1];
      if (!reading?.ok) return { spoke: index + 1, why: reading?.reason };
      const u = Math.hypot(reading.uOwnN, reading.uCommonN);
      return { spoke: index + 1, off: reading.tensionN / tensionN - 1, sigmas: (reading.tensionN - tensionN) / u };
    });
    expect(rows.filter((row) => row.off === undefined)).toEqual([]);
    // U = 2u covers 95 %; the common part moves all spokes together, so that single misses are no accident: 3u must hold all.
    expect(rows.filter((row) => Math.abs(row.sigmas ?? 0) > 3)).toEqual([]);
    expect(simulated.signals.at(-1)).toBe('finished');
  }, 120_000);
});
