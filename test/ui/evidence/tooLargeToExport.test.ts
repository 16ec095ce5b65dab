import { describe, expect, it } from 'vitest';
import { LARGEST_FILE } from '../../../src/spokes/largestFile.ts';
import { utf8Length } from '../../../src/spokes/utf8Length.ts';
import type { Wheel } from '../../../src/spokes/wheel.ts';
import { readWheelFile, writeWheelFile } from '../../../src/spokes/wheelFile.ts';
import { createApp } from '../../../src/ui/store/createApp.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { EMPTY_SHELF, simulatedPorts } from '../store/simulatedPorts.ts';

const HOW = { crossing: 'held', direction: 'inPlane' } as const;

/** Rounds of a thousand plucks each, told apart by long ids: large without tones. */
function wheelOf(rounds: number, idOf: (pluck: number) => string): Wheel {
  const { wheel } = demoWheel('steelRear');
  const pluck = (id: string) => ({
    id,
    at: '2026-01-01T00:00:00.000Z',
    spoke: 5,
    how: HOW,
    tones: [],
    covarianceHz2: [],
    hypotheses: [],
    flags: [],
  });
  const round = (at: number) => ({
    id: `${at}`,
    startedAt: '2026-01-01T00:00:00.000Z',
    how: HOW,
    state: { tyre: 'off' as const },
    order: 'byPlace' as const,
    plucksToSettle: 2,
    plucks: Array.from({ length: 1000 }, (_, i) => pluck(idOf(1000 * at + i))),
    skipped: [],
  });
  return { ...wheel, rounds: Array.from({ length: rounds }, (_, i) => round(i)) };
}
/** Three bytes a sign, so that the text is far below the bound and the file beyond it. */
const vast = () => wheelOf(6, (i) => `${i} ${'€'.repeat(3900)}`);

describe('the bytes of a text', () => {
  it.each(['', 'wheel', '32 spokes, 2 m µ ß', '左右 € ±', '🚲 and 𝄞', `a${'ÿĀ߿ࠀ\uffff'}b`])(
    'are those that the platform writes: %s',
    (text) => {
      expect(utf8Length(text)).toBe(new TextEncoder().encode(text).length);
    },
  );
});

describe('a file that could not be read again', () => {
  it('is not made of one wheel, by itself or with its recordings: a sentence says how large it is', async () => {
    const simulated = simulatedPorts();
    const app = createApp(simulated.ports, EMPTY_SHELF);
    const wheel = vast();
    expect(writeWheelFile(wheel).length).toBeLessThan(LARGEST_FILE);
    app.actions.saveWheel(wheel);
    const before = app.store.getState().messages.length;
    await app.actions.exportWheel(wheel.id);
    await app.actions.exportRecordings(wheel.id);
    expect(simulated.shared).toEqual([]);
    const [one, ...more] = app.store.getState().messages.slice(before);
    expect(one).toMatchObject({
      code: 'wheelTooLarge',
      detail: expect.stringMatching(/^“.+” makes a file of 7\d MB$/),
    });
    expect(more.every(({ code }) => code === 'wheelTooLarge')).toBe(true);
  });

  it('is written without indentation where that makes it small enough, and read again', () => {
    const wheel = wheelOf(40, (i) => `${i} ${'x'.repeat(1280)}`);
    const text = writeWheelFile(wheel);
    const read = readWheelFile(text);
    if (!read.ok) throw new RangeError(JSON.stringify(read.problems));
    expect(read.wheel.rounds.flatMap(({ plucks }) => plucks)).toHaveLength(40_000);
    const indented = JSON.stringify(JSON.parse(text), undefined, 2);
    expect(indented.length).toBeGreaterThan(LARGEST_FILE);
    expect(text.length).toBeLessThanOrEqual(LARGEST_FILE);
  });

  it('is not made of all wheels together either, and is no backup', async () => {
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    app.actions.saveWheel(vast());
    await app.actions.exportEverything();
    const { messages, preferences } = app.store.getState();
    expect(messages).toMatchObject([{ code: 'backupTooLarge', detail: expect.stringMatching(/^7\d MB$/) }]);
    expect(preferences.lastBackupAt).toBeUndefined();
  });
});
