import { WHEEL_FORMAT, WHEEL_VERSION, type Wheel } from '../../spokes/wheel.ts';
import { readWheelFile } from '../../spokes/wheelFile.ts';
import type { AppState, Session } from '../store/appState.ts';
import { newestFirst } from '../store/mergeWheels.ts';
import { readDrafts, readPreferences } from '../store/readPreferences.ts';
import type { Database } from './database.ts';

/**
 * Brings back what was kept, through the one gate. A wheel that does not pass is named and left in the database untouched; the
 * others are there.
 */
export async function loadState(
  database: Database,
  initial: AppState,
): Promise<{
  readonly state: AppState;
  readonly session: Session | undefined;
  readonly unreadable: readonly string[];
}> {
  const loaded = await database.load();
  if (!loaded)
    return {
      state: { ...initial, wheels: { ...initial.wheels, status: 'failed' } },
      session: undefined,
      unreadable: [],
    };
  const wheels: Wheel[] = [];
  const unreadable: string[] = [];
  for (const kept of loaded.wheels) {
    const read = readWheelFile({ format: WHEEL_FORMAT, version: WHEEL_VERSION, wheel: kept });
    if (read.ok) wheels.push(read.wheel);
    else unreadable.push(nameOf(kept));
  }
  return {
    state: {
      ...initial,
      preferences: readPreferences(loaded.preferences.preferences),
      wheels: {
        ...initial.wheels,
        status: 'ready',
        list: newestFirst(wheels),
        drafts: readDrafts(loaded.preferences.drafts),
      },
    },
    session: readSession(loaded.preferences.session),
    unreadable,
  };
}

const nameOf = (kept: unknown): string => {
  const { name } = (kept ?? {}) as { readonly name?: unknown };
  return typeof name === 'string' ? name : '';
};

function readSession(kept: unknown): Session | undefined {
  const { wheelId, roundId, spoke } = (kept ?? {}) as Readonly<Record<string, unknown>>;
  if (typeof wheelId !== 'string') return undefined;
  return {
    wheelId,
    roundId: typeof roundId === 'string' ? roundId : undefined,
    spoke: typeof spoke === 'number' && Number.isInteger(spoke) && spoke > 0 ? spoke : undefined,
  };
}
