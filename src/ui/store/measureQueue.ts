import type { MeasuredRound } from './appState.ts';
import type { Desk } from './desk.ts';
import type { Messages } from './messageActions.ts';

const NOTHING_YET: MeasuredRound = { status: 'working', readings: {}, learned: {} };

export interface MeasureQueue {
  /** Asks for a round's tensions; the newest plucks win, an answer that came too late is replaced by the next. */
  ask(wheelId: string, roundId: string): Promise<void>;
  /** Settles when nothing is under way. */
  settled(): Promise<void>;
}

/** One measurement at a time; what is asked for meanwhile is done once, afterwards, with what is true then. */
export function measureQueue({ get, set, ports }: Desk, { say }: Messages): MeasureQueue {
  const wanted = new Map<string, string>();
  let working: Promise<void> | undefined;

  const put = (roundId: string, measured: MeasuredRound) =>
    set({ measured: { ...get().measured, [roundId]: measured } });

  const one = async (wheelId: string, roundId: string) => {
    const wheel = get().wheels.list.find((item) => item.id === wheelId);
    const round = wheel?.rounds.find((item) => item.id === roundId);
    if (!wheel || !round) return;
    const before = get().measured[roundId] ?? NOTHING_YET;
    put(roundId, { ...before, status: 'working' });
    try {
      put(roundId, { status: 'ready', ...(await ports.measure.round(wheel, round)) });
    } catch {
      put(roundId, { ...before, status: 'failed' });
      say('measureFailed');
    }
  };
  const work = async () => {
    for (let next = wanted.entries().next(); !next.done; next = wanted.entries().next()) {
      const [roundId, wheelId] = next.value;
      wanted.delete(roundId);
      await one(wheelId, roundId);
    }
    working = undefined;
  };
  return {
    ask: (wheelId, roundId) => {
      wanted.set(roundId, wheelId);
      working ??= work();
      return working;
    },
    settled: async () => {
      while (working) await working;
    },
  };
}
