import { describe, expect, it } from 'vitest';
import type { Round, Wheel } from '../../../src/spokes/wheel.ts';
import { readWheelFile } from '../../../src/spokes/wheelFile.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { mergeWheels } from '../../../src/ui/store/mergeWheels.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';

const round = (id: string, skipped: readonly number[] = []): Round => ({
  id,
  startedAt: '2026-01-01T10:00:00.000Z',
  how: { crossing: 'held', direction: 'inPlane' },
  state: { tyre: 'off' },
  order: 'byPlace',
  plucksToSettle: 2,
  plucks: [],
  skipped,
});
const wheel = (id: string, changedAt: string, rounds: readonly Round[], name = id): Wheel => ({
  ...demoWheel('steelRear').wheel,
  id,
  name,
  changedAt,
  rounds,
});

describe('importing merges by id and never deletes', () => {
  const here = [wheel('a', '2026-02-01T00:00:00.000Z', [round('1'), round('2')], 'mine')];

  it('adds what is new', () => {
    const { list, preview } = mergeWheels(here, [wheel('b', '2026-01-01T00:00:00.000Z', [])]);
    expect(list.map(({ id }) => id)).toEqual(['a', 'b']);
    expect(preview.added.map(({ id }) => id)).toEqual(['b']);
  });
  it('keeps rounds of both, and the later description', () => {
    const { list, preview } = mergeWheels(here, [wheel('a', '2026-03-01T00:00:00.000Z', [round('3')], 'theirs')]);
    expect(list[0]?.name).toBe('theirs');
    expect(list[0]?.rounds.map(({ id }) => id)).toEqual(['1', '2', '3']);
    expect(preview.merged.map(({ roundsAdded }) => roundsAdded)).toEqual([1]);
  });
  it('keeps the later description when the file is older', () => {
    const { list } = mergeWheels(here, [wheel('a', '2026-01-15T00:00:00.000Z', [round('3')], 'older')]);
    expect(list[0]?.name).toBe('mine');
    expect(list[0]?.rounds).toHaveLength(3);
  });
  it('says that nothing would change, and changes nothing', () => {
    const { list, preview } = mergeWheels(here, [wheel('a', '2026-01-15T00:00:00.000Z', [round('1')])]);
    expect(preview).toMatchObject({ added: [], merged: [] });
    expect(list[0]).toBe(here[0]);
  });
  it('is the same done twice', () => {
    const incoming = [wheel('a', '2026-03-01T00:00:00.000Z', [round('3')]), wheel('b', '2026-01-01T00:00:00.000Z', [])];
    const once = mergeWheels(here, incoming).list;
    expect(mergeWheels(once, incoming).list).toEqual(once);
  });
  it('keeps what two files written by hand without ids each hold, and the same file twice once', () => {
    const { layout, sides } = plainWheel();
    const file = (frequencyHz: number): Wheel => {
      const rounds = [{ plucks: [{ spoke: 1, tones: [{ frequencyHz }] }] }];
      const gauges = [{ rounds: [{ readings: [{ spoke: 1, values: [frequencyHz] }] }] }];
      const read = readWheelFile({ format: 'ringtrue-wheel', wheel: { id: 'w', layout, sides, rounds, gauges } });
      if (!read.ok) throw new Error(JSON.stringify(read.problems));
      return read.wheel;
    };
    const both = mergeWheels([file(400)], [file(500)]).list;
    expect(both[0]?.rounds.map(({ plucks }) => plucks[0]?.tones[0]?.frequencyHz)).toEqual([400, 500]);
    expect(both[0]?.gauges?.[0]?.rounds).toHaveLength(2);
    expect(mergeWheels(both, [file(500)]).list[0]).toBe(both[0]);
  });
});
