import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { Pluck, Round, Wheel } from '../../../src/spokes/wheel.ts';
import { type Change, type Database, openDatabase } from '../../../src/ui/edge/database.ts';
import { changeBetween, saveChanges, type Together } from '../../../src/ui/edge/saveChanges.ts';
import type { AppState } from '../../../src/ui/store/appState.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { INITIAL_STATE } from '../../../src/ui/store/initialState.ts';

const wheel = (id: string, rounds: readonly Round[] = []): Wheel => ({ ...demoWheel('steelRear').wheel, id, rounds });
const round = (id: string, startedAt = '2026-01-01T10:00:00.000Z'): Round => ({
  id,
  startedAt,
  how: { crossing: 'held', direction: 'inPlane' },
  state: { tyre: 'off' },
  order: 'byPlace',
  plucksToSettle: 2,
  plucks: [],
  skipped: [],
});

let problems: string[] = [];
let open: Database[] = [];
const wheelsOf = (loaded: { readonly wheels: readonly unknown[] } | undefined) =>
  (loaded?.wheels ?? []) as readonly Wheel[];
const database = () => {
  const db = openDatabase((problem) => problems.push(problem));
  open.push(db);
  return db;
};
const ready = (list: readonly Wheel[] = []): AppState => ({
  ...INITIAL_STATE,
  wheels: { ...INITIAL_STATE.wheels, status: 'ready', list },
});

/** No other tab. */
const ALONE: Together = { read: async () => undefined, adopt: () => {}, onOvertaken: () => {} };
/** A tab: what it shows, and its saving. */
async function tab() {
  const db = database();
  const store = createStore(() => ready());
  let overtaken = 0;
  const read = async () => wheelsOf(await db.load());
  store.setState(ready(await read()));
  const saving = saveChanges(
    store,
    db,
    {
      read,
      adopt: (list) => store.setState(ready(list)),
      onOvertaken: () => {
        overtaken++;
      },
    },
    () => {},
  );
  return {
    saving,
    overtaken: () => overtaken,
    wheels: () => store.getState().wheels.list,
    change: async (list: readonly Wheel[]) => {
      store.setState(ready(list));
      await saving.settled();
    },
  };
}
const pluck = (id: string, spoke: number, at: string): Pluck => ({
  id,
  at,
  spoke,
  how: { crossing: 'held', direction: 'inPlane' },
  tones: [],
  covarianceHz2: [],
  hypotheses: [],
  flags: [],
});

beforeEach(() => {
  problems = [];
});
afterEach(async () => {
  for (const db of open) db.close();
  open = [];
  await deleteDB('ringtrue');
});

describe('what is kept on the device', () => {
  it('brings a wheel back with its rounds in the order they were walked', async () => {
    const db = database();
    const kept = wheel('a', [round('later', '2026-01-02T10:00:00.000Z'), round('earlier', '2026-01-01T10:00:00.000Z')]);
    expect(await db.write(changeBetween(undefined, kept))).toBe('written');
    const loaded = await database().load();
    const [back] = wheelsOf(loaded);
    expect(back?.rounds.map(({ id }) => id)).toEqual(['earlier', 'later']);
    expect({ ...back, rounds: [] }).toEqual({ ...kept, rounds: [] });
    expect(problems).toEqual([]);
  });

  it('deletes a wheel with its rounds and recordings, and no other’s', async () => {
    const db = database();
    for (const id of ['a', 'ab']) {
      await db.write(changeBetween(undefined, wheel(id, [round('r')])));
      await db.putRecording({ id: `${id}-1`, wheelId: id, roundId: 'r', wav: new ArrayBuffer(10) });
    }
    await db.deleteWheel('a');
    const loaded = wheelsOf(await db.load());
    expect(loaded.map(({ id, rounds }) => [id, rounds.length])).toEqual([['ab', 1]]);
    expect(await db.recordingsSize()).toEqual({ count: 1, bytes: 10 });
  });

  it('tells a full device by its own code, and keeps what was there', async () => {
    const db = database();
    await db.write(changeBetween(undefined, wheel('a')));
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('no room', 'QuotaExceededError');
    };
    try {
      expect(await db.write(changeBetween(undefined, wheel('b')))).toBe('failed');
    } finally {
      IDBObjectStore.prototype.put = put;
    }
    expect(problems).toEqual(['storageFull']);
    expect(wheelsOf(await db.load()).map(({ id }) => id)).toEqual(['a']);
  });

  it('opens again after the browser closed the connection', async () => {
    const db = database();
    await db.write(changeBetween(undefined, wheel('a')));
    db.close();
    expect(await db.write(changeBetween(undefined, wheel('b')))).toBe('written');
    expect(problems).toEqual([]);
  });
});

describe('saving follows the state', () => {
  it('rewrites only the round that a pluck changed', () => {
    const first = round('1');
    const before = wheel('a', [first, round('2')]);
    const after = wheel('a', [first, { ...round('2'), skipped: [3] }]);
    const change = changeBetween(before, after);
    expect(change.putRounds.map(({ id }) => id)).toEqual(['2']);
    expect(change.deleteRounds).toEqual([]);
  });

  it('writes at once, tells of the first save once, and everything is there after a new start', async () => {
    const db = database();
    const store = createStore(() => ready());
    let firstSaves = 0;
    const saving = saveChanges(store, db, ALONE, () => firstSaves++);
    store.setState(ready([wheel('a')]));
    store.setState(ready([wheel('a', [round('r')]), wheel('b')]));
    await saving.settled();
    store.setState(ready([wheel('b')]));
    await saving.settled();
    expect(firstSaves).toBe(1);
    expect(wheelsOf(await database().load()).map(({ id }) => id)).toEqual(['b']);
  });

  it('owes what could not be written and pays it with the next change', async () => {
    const real = database();
    let broken = true;
    const flaky: Database = {
      ...real,
      write: (change: Change) => (broken ? Promise.resolve('failed' as const) : real.write(change)),
    };
    const store = createStore(() => ready());
    const saving = saveChanges(store, flaky, ALONE, () => {});
    store.setState(ready([wheel('a')]));
    await saving.settled();
    expect((await real.load())?.wheels).toEqual([]);
    broken = false;
    store.setState({ preferences: { ...INITIAL_STATE.preferences, theme: 'dark' } });
    await saving.settled();
    const loaded = await real.load();
    expect(wheelsOf(loaded).map(({ id }) => id)).toEqual(['a']);
    expect(loaded?.preferences.preferences).toMatchObject({ theme: 'dark' });
  });

  it('saves nothing before loading has ended, so that an empty start cannot delete', async () => {
    const db = database();
    await db.write(changeBetween(undefined, wheel('a')));
    const store = createStore(() => INITIAL_STATE);
    const saving = saveChanges(store, db, ALONE, () => {});
    store.setState({ messages: [] });
    await saving.settled();
    expect((await db.load())?.wheels).toHaveLength(1);
  });
});

describe('two tabs with the same wheels', () => {
  const known = (id: string) => wheel(id, [{ ...round('r'), plucks: [pluck('p1', 1, '2026-01-01T10:00:01.000Z')] }]);
  const withPluck = (of: Wheel, added: Pluck): Wheel => ({
    ...of,
    rounds: of.rounds.map((one) => ({ ...one, plucks: [...one.plucks, added] })),
  });
  const start = async () => {
    await database().write(changeBetween(undefined, known('a')));
    return { one: await tab(), other: await tab() };
  };
  const first = (list: readonly Wheel[]) => list[0] ?? wheel('none');

  it('keep the plucks that either heard, in the order heard, though neither was told of the other', async () => {
    const { one, other } = await start();
    await one.change([withPluck(first(one.wheels()), pluck('p3', 3, '2026-01-01T10:00:03.000Z'))]);
    await other.change([withPluck(first(other.wheels()), pluck('p2', 2, '2026-01-01T10:00:02.000Z'))]);
    expect(other.overtaken()).toBe(1);
    const kept = first(wheelsOf(await database().load()));
    expect(kept.rounds[0]?.plucks.map(({ id }) => id)).toEqual(['p1', 'p2', 'p3']);
    expect(other.wheels()).toEqual([kept]);
    one.saving.catchUp();
    await one.saving.settled();
    expect(one.wheels()).toEqual([kept]);
    expect(one.overtaken()).toBe(0);
  });

  it('keep a new name of the one and a moved reading, a new round and a put-aside pluck of the other', async () => {
    const { one, other } = await start();
    await one.change([{ ...first(one.wheels()), name: 'Renamed' }]);
    const [before] = first(other.wheels()).rounds;
    if (before === undefined) throw new RangeError('the wheel has no round');
    const moved = { ...before, plucks: before.plucks.map((item) => ({ ...item, spoke: 2, putAside: true })) };
    await other.change([{ ...first(other.wheels()), rounds: [moved, round('new', '2026-01-03T10:00:00.000Z')] }]);
    const kept = first(wheelsOf(await database().load()));
    expect(kept.name).toBe('Renamed');
    expect(kept.rounds.map(({ id }) => id)).toEqual(['r', 'new']);
    expect(kept.rounds[0]?.plucks).toMatchObject([{ id: 'p1', spoke: 2, putAside: true }]);
  });

  it('a wheel that one deleted stays whole where the other heard more of it', async () => {
    const { one, other } = await start();
    await one.change([]);
    await other.change([withPluck(first(other.wheels()), pluck('p2', 2, '2026-01-01T10:00:02.000Z'))]);
    const kept = first(wheelsOf(await database().load()));
    expect(kept.rounds[0]?.plucks.map(({ id }) => id)).toEqual(['p1', 'p2']);
  });

  it('deleting what the other tab changed meanwhile brings it back instead; what it left alone is deleted', async () => {
    const { one, other } = await start();
    await one.change([withPluck(first(one.wheels()), pluck('p2', 2, '2026-01-01T10:00:02.000Z'))]);
    await other.change([]);
    expect(other.overtaken()).toBe(1);
    expect(first(other.wheels()).rounds[0]?.plucks).toHaveLength(2);
    await other.change([]);
    expect(wheelsOf(await database().load())).toEqual([]);
    one.saving.catchUp();
    await one.saving.settled();
    expect(one.wheels()).toEqual([]);
  });

  it('what cannot be read stays owed, and nothing is written over', async () => {
    const db = database();
    await db.write(changeBetween(undefined, known('a')));
    const store = createStore(() => ready());
    const saving = saveChanges(store, database(), ALONE, () => {});
    store.setState(ready([{ ...known('a'), rounds: [] }]));
    await saving.settled();
    expect(first(wheelsOf(await db.load())).rounds).toHaveLength(1);
  });
});
