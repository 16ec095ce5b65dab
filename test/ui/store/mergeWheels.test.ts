import { describe, expect, it } from 'vitest';
import { completePluck } from '../../../src/spokes/completePluck.ts';
import type { Round, Wheel } from '../../../src/spokes/wheel.ts';
import { readWheelFile } from '../../../src/spokes/wheelFile.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { mergeWheels } from '../../../src/ui/store/mergeWheels.ts';
import { newIdText } from '../../../src/ui/text/newIdText.ts';
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

const nothing = (): never => {
  throw new RangeError('nothing was said');
};

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
  const heard = (id: string, ...tonesHz: readonly number[]): Round => ({
    ...round(id),
    plucks: tonesHz.map((frequencyHz, i) =>
      completePluck({ tones: [{ frequencyHz }] }, `p-${i + 1}`, i + 1, { crossing: 'held', direction: 'inPlane' }),
    ),
  });
  const tonesOf = ({ plucks }: Round) => plucks.map(({ tones }) => tones[0]?.frequencyHz);

  it('of two rounds of one id of which one holds the other, the fuller one stands', () => {
    for (const [mine, theirs] of [
      [heard('r', 400), heard('r', 400, 410)],
      [heard('r', 400, 410), heard('r', 400)],
    ] as const) {
      const { list, preview } = mergeWheels([wheel('a', '2026', [mine])], [wheel('a', '2026', [theirs])]);
      expect(list[0]?.rounds.map(tonesOf)).toEqual([[400, 410]]);
      expect(preview.newIds).toEqual([]);
    }
  });
  it('keeps two rounds of one id with different plucks both, and says so; the same file again changes nothing', () => {
    const [mine, theirs] = [heard('r', 400), heard('r', 500, 510)].map((one) => wheel('a', '2026', [one]));
    if (!mine || !theirs) throw new RangeError('two wheels');
    const { list, preview } = mergeWheels([mine], [theirs]);
    expect(list[0]?.rounds.map(tonesOf)).toEqual([[400], [500, 510]]);
    const [first, second] = list[0]?.rounds ?? [];
    expect([first?.id, second?.id]).toEqual(['r', expect.stringMatching(/^r-[0-9a-f]{8}$/)]);
    expect(preview.newIds).toEqual([{ what: 'round', was: 'r', now: second?.id, wheelName: 'a' }]);
    const again = mergeWheels(list, [theirs]);
    expect(again.list[0]).toBe(list[0]);
    expect(again.preview.newIds).toEqual([]);
  });
  it('and goes to and fro between two devices with two rounds each, not more', () => {
    const mine = [wheel('a', '2026', [heard('r', 400)])];
    const theirs = [wheel('a', '2026', [heard('r', 500)])];
    const onMine = mergeWheels(mine, theirs).list;
    const onTheirs = mergeWheels(theirs, onMine).list;
    expect(onTheirs[0]?.rounds.map(tonesOf)).toEqual([[500], [400]]);
    expect(mergeWheels(onMine, onTheirs).list[0]).toBe(onMine[0]);
  });
  it('a round heard on since its file was written, and the put-aside pluck of one, are still the same round', () => {
    const [pluck] = heard('r', 400).plucks;
    if (!pluck) throw new RangeError('a pluck');
    const aside = { ...heard('r', 400, 410), plucks: [{ ...pluck, putAside: true }] };
    const known = [wheel('a', '2026', [aside])];
    expect(mergeWheels(known, [wheel('a', '2026', [heard('r', 400)])]).list[0]).toBe(known[0]);
  });
  it('keeps gauge readings of one id that differ, too', () => {
    const gauged = (value: number, ...repeats: readonly number[]): Wheel => ({
      ...wheel('a', '2026', []),
      gauges: [
        {
          id: 'g',
          name: 'Gauge',
          scale: 'direct',
          unit: 'N',
          rounds: [
            { id: 'r', at: '2026', state: { tyre: 'off' }, readings: [{ spoke: 1, values: [value, ...repeats] }] },
          ],
        },
      ],
    });
    const values = (list: readonly Wheel[]) => list[0]?.gauges?.[0]?.rounds.map(({ readings }) => readings[0]?.values);
    expect(values(mergeWheels([gauged(900)], [gauged(910)]).list)).toEqual([[900], [910]]);
    expect(values(mergeWheels([gauged(900)], [gauged(900, 905)]).list)).toEqual([[900, 905]]);
  });
  it('keeps two known tensions of one id that differ both, and says that both count; the same again changes nothing', () => {
    const known = (loadN: number): Wheel => ({
      ...wheel('a', '2026', []),
      calibrations: [{ id: 'k', kind: 'inWheel', spoke: 1, loadN, uLoadN: 10, method: 'load cell' }],
    });
    const { list, preview } = mergeWheels([known(1000)], [known(1100)]);
    expect(list[0]?.calibrations.map(({ loadN }) => loadN)).toEqual([1000, 1100]);
    expect(preview.newIds).toMatchObject([{ what: 'calibration', was: 'k' }]);
    expect(newIdText(preview.newIds[0] ?? nothing())).toContain('Both count in every reading: remove the wrong one');
    expect(mergeWheels(list, [known(1100)]).list[0]).toBe(list[0]);
    const back = mergeWheels([known(1100)], list).list;
    expect(back[0]?.calibrations.map(({ loadN }) => loadN)).toEqual([1100, 1000]);
    expect(mergeWheels(list, back).list[0]).toBe(list[0]);
  });
  it('keeps a gauge that reads in another unit apart, so that its readings stay what they were', () => {
    const gauged = (unit: 'N' | 'kgf', ...values: readonly number[]): Wheel => ({
      ...wheel('a', '2026', []),
      gauges: [
        {
          id: 'g',
          name: 'Gauge',
          scale: 'direct',
          unit,
          rounds: values.map((value, i) => ({
            id: `r-${i}`,
            at: '2026',
            state: { tyre: 'off' },
            readings: [{ spoke: 1, values: [value] }],
          })),
        },
      ],
    });
    const read = (list: readonly Wheel[]) =>
      list[0]?.gauges?.map(({ unit, rounds }) => [unit, ...rounds.map(({ readings }) => readings[0]?.values[0])]);
    const { list, preview } = mergeWheels([gauged('kgf', 100)], [gauged('N', 1010)]);
    expect(read(list)).toEqual([
      ['kgf', 100],
      ['N', 1010],
    ]);
    expect(preview.newIds).toMatchObject([{ what: 'gauge', was: 'g' }]);
    // The same file with one round more joins the gauge that it was kept as.
    expect(read(mergeWheels(list, [gauged('N', 1010, 1020)]).list)).toEqual([
      ['kgf', 100],
      ['N', 1010, 1020],
    ]);
    const back = mergeWheels([gauged('N', 1010)], list).list;
    expect(read(back)).toEqual([
      ['N', 1010],
      ['kgf', 100],
    ]);
    expect(mergeWheels(list, back).list[0]).toBe(list[0]);
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
