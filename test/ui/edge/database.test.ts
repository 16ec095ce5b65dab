import 'fake-indexeddb/auto';
import { deleteDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createStore } from 'zustand/vanilla';
import type { Round, Wheel } from '../../../src/spokes/wheel.ts';
import { type Change, type Database, openDatabase } from '../../../src/ui/edge/database.ts';
import { changeBetween, saveChanges } from '../../../src/ui/edge/saveChanges.ts';
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
    expect(await db.write(changeBetween(undefined, kept))).toBe(true);
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
      expect(await db.write(changeBetween(undefined, wheel('b')))).toBe(false);
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
    expect(await db.write(changeBetween(undefined, wheel('b')))).toBe(true);
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
    const saving = saveChanges(store, db, () => firstSaves++);
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
      write: (change: Change) => (broken ? Promise.resolve(false) : real.write(change)),
    };
    const store = createStore(() => ready());
    const saving = saveChanges(store, flaky, () => {});
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
    const saving = saveChanges(store, db, () => {});
    store.setState({ messages: [] });
    await saving.settled();
    expect((await db.load())?.wheels).toHaveLength(1);
  });
});
