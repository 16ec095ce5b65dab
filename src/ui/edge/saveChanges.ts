import type { StoreApi } from 'zustand/vanilla';
import { WHEEL_FORMAT, WHEEL_VERSION, type Wheel } from '../../spokes/wheel.ts';
import { readWheelFile } from '../../spokes/wheelFile.ts';
import type { AppState } from '../store/appState.ts';
import { mergeEdits } from '../store/mergeEdits.ts';
import type { Change, Database, Written } from './database.ts';

/** What several tabs keep together. */
export interface Together {
  /** All wheels as they are kept now; absent where they cannot be read. */
  readonly read: () => Promise<readonly Wheel[] | undefined>;
  /** Takes over wheels that are kept already. */
  readonly adopt: (wheels: readonly Wheel[]) => void;
  /** A change of this tab met one of another tab: what both knew, how the other left it, and what became of both. */
  readonly onOvertaken: (known: readonly Wheel[], theirs: readonly Wheel[], both: readonly Wheel[]) => void;
}

/**
 * Saves what changed, as it changes: a subscriber, no action calls it. Parts of the state are compared by identity, so that a
 * pluck writes its round alone; while one write runs, later changes of the same wheel wait and become one. What could not be
 * written stays owed and is tried again with the next change. Where another tab was quicker, what it saved is read and brought together
 * with what is here first, so that nothing of either is written over.
 *
 * @param soon When to begin: in the app once the change is on the screen.
 * @returns `settled` waits until all is written, `catchUp` reads what another tab saved, `stop` ends the watching
 */
export function saveChanges(
  store: StoreApi<AppState>,
  database: Database,
  together: Together,
  onFirstSave: () => void,
  soon: (work: () => void) => void = queueMicrotask,
): { readonly settled: () => Promise<void>; readonly catchUp: () => void; readonly stop: () => void } {
  let saved = new Map<string, Wheel>(store.getState().wheels.list.map((wheel) => [wheel.id, wheel]));
  let savedPreferences: Readonly<Record<string, unknown>> = preferencesOf(store.getState());
  let first = true;
  let writing = Promise.resolve();
  let running = false;
  let behind = false;
  let overtaken = false;

  const writeOwed = async () => {
    running = true;
    const tried = new Set<unknown>();
    for (;;) {
      if (behind && (await readOthers())) tried.clear();
      const owed = nextOwed(tried);
      if (owed === undefined) break;
      tried.add(owed.token);
      const written = await owed.write();
      if (written === 'written') {
        owed.remember();
        if (first) onFirstSave();
        first = false;
      } else if (written === 'overtaken') {
        owed.forget();
        behind = true;
        overtaken = true;
      }
    }
    // At once and not in a later turn: a change that came in between would be missed.
    running = false;
  };

  /** Where nothing can be read all stays as it was, what is owed too. */
  const readOthers = async () => {
    behind = false;
    const read = await together.read();
    if (read === undefined) return false;
    const theirs = read.map((wheel) => {
      const known = saved.get(wheel.id);
      return known && JSON.stringify(known) === JSON.stringify(wheel) ? known : wheel;
    });
    const here = store.getState().wheels.list;
    const known = [...saved.values()];
    const merged = mergeEdits(known, here, theirs).map((both) => readableOr(both, here));
    saved = new Map(theirs.map((wheel) => [wheel.id, wheel]));
    if (merged.length !== here.length || merged.some((wheel) => !here.includes(wheel))) together.adopt(merged);
    if (overtaken) together.onOvertaken(known, theirs, merged);
    overtaken = false;
    return true;
  };

  const nextOwed = (tried: ReadonlySet<unknown>) => {
    const state = store.getState();
    if (state.wheels.status === 'loading') return undefined;
    for (const wheel of state.wheels.list) {
      const before = saved.get(wheel.id);
      if (before === wheel || tried.has(wheel)) continue;
      return {
        token: wheel,
        write: () => database.write(changeBetween(before, wheel)),
        remember: () => void saved.set(wheel.id, wheel),
        forget: () => {},
      };
    }
    for (const id of saved.keys())
      if (!state.wheels.list.some((wheel) => wheel.id === id) && !tried.has(id))
        return {
          token: id,
          write: () => database.deleteWheel(id),
          remember: () => void saved.delete(id),
          // It was changed elsewhere meanwhile: it comes back, to be looked at first.
          forget: () => void saved.delete(id),
        };
    const preferences = preferencesOf(state);
    for (const [name, value] of Object.entries(preferences))
      if (savedPreferences[name] !== value && !tried.has(value))
        return {
          token: value,
          write: async (): Promise<Written> => ((await database.putPreference(name, value)) ? 'written' : 'failed'),
          remember: () => {
            savedPreferences = { ...savedPreferences, [name]: value };
          },
          forget: () => {},
        };
    return undefined;
  };

  let pending = false;
  const begin = () => {
    if (running || pending) return;
    pending = true;
    writing = new Promise((resolve) => {
      soon(() => {
        pending = false;
        resolve(writeOwed());
      });
    });
  };
  const stop = store.subscribe(begin);
  return {
    settled: async () => {
      while (running || pending) await writing;
    },
    catchUp: () => {
      behind = true;
      begin();
    },
    stop,
  };
}

/** Two descriptions may be sound each and not together: then the one made here stands, with what was heard in both. */
function readableOr(both: Wheel, here: readonly Wheel[]): Wheel {
  const mine = here.find(({ id }) => id === both.id);
  if (mine === undefined || mine === both) return both;
  return readWheelFile({ format: WHEEL_FORMAT, version: WHEEL_VERSION, wheel: both }).ok
    ? both
    : { ...mine, rounds: both.rounds };
}

/** What is kept beside the wheels, by name. */
const preferencesOf = (state: AppState): Readonly<Record<string, unknown>> => ({
  preferences: state.preferences,
  drafts: state.wheels.drafts,
  ...(state.session ? { session: state.session } : {}),
});

/** The rounds that differ; the wheel's own record always goes along, it is small. */
export function changeBetween(before: Wheel | undefined, after: Wheel): Change {
  const { rounds, ...wheel } = after;
  const known = new Map(before?.rounds.map((round) => [round.id, round]));
  const kept = new Set(rounds.map((round) => round.id));
  return {
    wheel,
    putRounds: rounds.filter((round) => known.get(round.id) !== round),
    deleteRounds: [...known.keys()].filter((id) => !kept.has(id)),
  };
}
