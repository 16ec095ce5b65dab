import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import type { StorageProblem } from '../store/message.ts';

/** A wheel without its rounds, which are kept one by one: a pluck then rewrites its round, not the wheel's whole past. */
export type WheelRecord = Omit<Wheel, 'rounds'>;
/** Another one with each change of the wheel or its rounds, so that a tab sees that another one was there. */
type Stamped = WheelRecord & { readonly stamp?: string };
export interface RoundRecord {
  readonly wheelId: string;
  readonly round: Round;
}
export interface RecordingRecord {
  readonly id: string;
  readonly wheelId: string;
  readonly roundId: string;
  readonly wav: ArrayBuffer;
}

interface Schema extends DBSchema {
  wheels: { key: string; value: Stamped };
  rounds: { key: [string, string]; value: RoundRecord; indexes: { wheel: string } };
  recordings: { key: string; value: RecordingRecord; indexes: { wheel: string } };
  /** Preferences, unfinished forms and where the person was, each under its name. */
  preferences: { key: string; value: unknown };
}

const NAME = 'ringtrue';
const VERSION = 1;

export interface Loaded {
  /** As found: they still have to pass the gate. */
  readonly wheels: readonly unknown[];
  readonly preferences: Readonly<Record<string, unknown>>;
}

/** `overtaken`: another tab changed the wheel since it was last read here, and nothing was written over that. */
export type Written = 'written' | 'overtaken' | 'failed';

/** One change to what is kept: all of it is written, or none. */
export interface Change {
  readonly wheel: WheelRecord;
  readonly putRounds: readonly Round[];
  readonly deleteRounds: readonly string[];
}

/** What is kept on this device. Every method settles; a failure is told to `tell` and comes back as false, undefined or `failed`. */
export interface Database {
  load(): Promise<Loaded | undefined>;
  write(change: Change): Promise<Written>;
  deleteWheel(id: string): Promise<Written>;
  putPreference(name: string, value: unknown): Promise<boolean>;
  putRecording(recording: RecordingRecord): Promise<boolean>;
  getRecording(id: string): Promise<RecordingRecord | undefined>;
  recordingsSize(): Promise<{ readonly count: number; readonly bytes: number }>;
  deleteRecordings(): Promise<boolean>;
  close(): void;
}

/**
 * Opens the device's database at the first use and again after the browser closed it.
 *
 * @param tell hears of every platform failure, as a code that has a sentence
 */
export function openDatabase(tell: (problem: StorageProblem) => void): Database {
  let opening: Promise<IDBPDatabase<Schema>> | undefined;
  /** The stamp of each wheel as it was last read or written here. */
  let known = new Map<string, string | undefined>();
  const connect = () => {
    opening ??= openDB<Schema>(NAME, VERSION, {
      upgrade: (db) => {
        db.createObjectStore('wheels', { keyPath: 'id' });
        db.createObjectStore('rounds', { keyPath: ['wheelId', 'round.id'] }).createIndex('wheel', 'wheelId');
        db.createObjectStore('recordings', { keyPath: 'id' }).createIndex('wheel', 'wheelId');
        db.createObjectStore('preferences');
      },
      blocked: () => tell('storageBlocked'),
      blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(),
      terminated: () => {
        opening = undefined;
        tell('storageLost');
      },
    });
    return opening;
  };
  /** Runs a piece of work; a connection that was closed meanwhile is opened anew once. */
  const run = async <T>(work: (db: IDBPDatabase<Schema>) => Promise<T>): Promise<T | undefined> => {
    for (let attempt = 0; ; attempt++) {
      try {
        return await work(await connect());
      } catch (error) {
        opening = undefined;
        if (nameOf(error) === 'InvalidStateError' && attempt === 0) continue;
        tell(problemOf(error));
        return undefined;
      }
    }
  };
  const done = async (work: (db: IDBPDatabase<Schema>) => Promise<unknown>) =>
    (await run(async (db) => {
      await work(db);
      return true;
    })) ?? false;

  const unlessOvertaken = async (work: (db: IDBPDatabase<Schema>) => Promise<Written>) => (await run(work)) ?? 'failed';

  return {
    load: async () => {
      const all = await run(loadAll);
      if (all) known = new Map(all.stamps);
      return all;
    },
    write: ({ wheel, putRounds, deleteRounds }) =>
      unlessOvertaken(async (db) => {
        const transaction = db.transaction(['wheels', 'rounds'], 'readwrite', { durability: 'strict' });
        const wheels = transaction.objectStore('wheels');
        const rounds = transaction.objectStore('rounds');
        if ((await wheels.get(wheel.id))?.stamp !== known.get(wheel.id)) return 'overtaken';
        const stamp = crypto.randomUUID();
        await Promise.all([
          wheels.put({ ...wheel, stamp }),
          ...putRounds.map((round) => rounds.put({ wheelId: wheel.id, round })),
          ...deleteRounds.map((id) => rounds.delete([wheel.id, id])),
          transaction.done,
        ]);
        known.set(wheel.id, stamp);
        return 'written';
      }),
    deleteWheel: (id) =>
      unlessOvertaken(async (db) => {
        const transaction = db.transaction(['wheels', 'rounds', 'recordings'], 'readwrite');
        const kept = await transaction.objectStore('wheels').get(id);
        if (kept !== undefined && kept.stamp !== known.get(id)) return 'overtaken';
        const keys = await transaction.objectStore('recordings').index('wheel').getAllKeys(id);
        await Promise.all([
          transaction.objectStore('wheels').delete(id),
          transaction.objectStore('rounds').delete(IDBKeyRange.bound([id, ''], [id, []])),
          ...keys.map((key) => transaction.objectStore('recordings').delete(key)),
          transaction.done,
        ]);
        known.delete(id);
        return 'written';
      }),
    putPreference: (name, value) => done((db) => db.put('preferences', value, name)),
    putRecording: (recording) => done((db) => db.put('recordings', recording)),
    getRecording: (id) => run(async (db) => db.get('recordings', id)),
    recordingsSize: async () => (await run(sizeOfRecordings)) ?? { count: 0, bytes: 0 },
    deleteRecordings: () => done((db) => db.clear('recordings')),
    close: () => void opening?.then((db) => db.close()),
  };
}

async function loadAll(
  db: IDBPDatabase<Schema>,
): Promise<Loaded & { readonly stamps: readonly (readonly [string, string | undefined])[] }> {
  const transaction = db.transaction(['wheels', 'rounds', 'preferences']);
  const preferencesStore = transaction.objectStore('preferences');
  const [wheels, rounds, names, values] = await Promise.all([
    transaction.objectStore('wheels').getAll(),
    transaction.objectStore('rounds').getAll(),
    preferencesStore.getAllKeys(),
    preferencesStore.getAll(),
  ]);
  const roundsOf = new Map<string, Round[]>();
  for (const { wheelId, round } of rounds) roundsOf.set(wheelId, [...(roundsOf.get(wheelId) ?? []), round]);
  return {
    stamps: wheels.map(({ id, stamp }) => [id, stamp] as const),
    wheels: wheels.map(({ stamp: _, ...wheel }) => ({
      ...wheel,
      rounds: (roundsOf.get(wheel.id) ?? []).sort((a, b) => a.startedAt.localeCompare(b.startedAt)),
    })),
    preferences: Object.fromEntries(names.map((name, index) => [name, values[index]])),
  };
}

async function sizeOfRecordings(db: IDBPDatabase<Schema>) {
  let count = 0;
  let bytes = 0;
  for (let at = await db.transaction('recordings').store.openCursor(); at; at = await at.continue()) {
    count++;
    bytes += at.value.wav.byteLength;
  }
  return { count, bytes };
}

const nameOf = (error: unknown): string => (error as { name?: string } | undefined)?.name ?? '';

function problemOf(error: unknown): StorageProblem {
  const name = nameOf(error);
  if (name === 'QuotaExceededError') return 'storageFull';
  if (name === 'InvalidStateError' || name === 'AbortError') return 'storageLost';
  if (name === 'DataError' || name === 'DataCloneError' || name === 'ConstraintError') return 'storageUnreadable';
  return 'storageRefused';
}
