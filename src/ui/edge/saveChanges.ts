import type { StoreApi } from 'zustand/vanilla';
import type { Wheel } from '../../spokes/wheel.ts';
import type { AppState } from '../store/appState.ts';
import type { Change, Database } from './database.ts';

/**
 * Saves what changed, as it changes: a subscriber, no action calls it. Parts of the state are compared by identity, so that a
 * pluck writes its round alone; while one write runs, later changes of the same wheel wait and become one. What could not be
 * written stays owed and is tried again with the next change.
 *
 * @param soon When to begin: in the app once the change is on the screen.
 * @returns `settled` waits until all is written, `stop` ends the watching
 */
export function saveChanges(
  store: StoreApi<AppState>,
  database: Database,
  onFirstSave: () => void,
  soon: (work: () => void) => void = queueMicrotask,
): { readonly settled: () => Promise<void>; readonly stop: () => void } {
  const saved = new Map<string, Wheel>(store.getState().wheels.list.map((wheel) => [wheel.id, wheel]));
  let savedPreferences: Readonly<Record<string, unknown>> = preferencesOf(store.getState());
  let first = true;
  let writing = Promise.resolve();
  let running = false;

  const writeOwed = async () => {
    running = true;
    const tried = new Set<unknown>();
    for (let owed = nextOwed(tried); owed; owed = nextOwed(tried)) {
      tried.add(owed.token);
      if (await owed.write()) {
        owed.remember();
        if (first) onFirstSave();
        first = false;
      }
    }
    // At once and not in a later turn: a change that came in between would be missed.
    running = false;
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
        remember: () => saved.set(wheel.id, wheel),
      };
    }
    for (const id of saved.keys())
      if (!state.wheels.list.some((wheel) => wheel.id === id) && !tried.has(id))
        return { token: id, write: () => database.deleteWheel(id), remember: () => saved.delete(id) };
    const preferences = preferencesOf(state);
    for (const [name, value] of Object.entries(preferences))
      if (savedPreferences[name] !== value && !tried.has(value))
        return {
          token: value,
          write: () => database.putPreference(name, value),
          remember: () => {
            savedPreferences = { ...savedPreferences, [name]: value };
          },
        };
    return undefined;
  };

  let pending = false;
  const stop = store.subscribe(() => {
    if (running || pending) return;
    pending = true;
    writing = new Promise((resolve) => {
      soon(() => {
        pending = false;
        resolve(writeOwed());
      });
    });
  });
  return {
    settled: async () => {
      while (running || pending) await writing;
    },
    stop,
  };
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
