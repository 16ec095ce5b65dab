import type { AppActions } from './appActions.ts';
import type { Desk } from './desk.ts';
import { newestFirst } from './mergeWheels.ts';
import type { Messages } from './messageActions.ts';

/** What the second methods need of the app: gauges kept in the wheel, and what takes a worker's time. */
export function evidenceActions({ get, set, ports }: Desk, { say }: Messages) {
  const find = (id: string) => get().wheels.list.find((wheel) => wheel.id === id);
  const asked = async <Answer>(ask: () => Promise<Answer>): Promise<Answer | undefined> => {
    try {
      return await ask();
    } catch {
      say('measureFailed');
      return undefined;
    }
  };
  const actions = {
    saveGauges: (wheelId, gauges) => {
      const wheel = find(wheelId);
      if (!wheel) return;
      const { wheels } = get();
      const changed = { ...wheel, gauges, changedAt: ports.clock.now() };
      set({
        wheels: { ...wheels, list: newestFirst([...wheels.list.filter((one) => one.id !== wheelId), changed]) },
      });
    },
    calibrateByGauge: async (wheelId, roundId, second) => {
      const wheel = find(wheelId);
      const round = wheel?.rounds.find((one) => one.id === roundId);
      return wheel && round ? asked(() => ports.measure.crossCalibrate(wheel, round, second)) : undefined;
    },
    measureSheet: async (wheelId, sheet, unit) => {
      const wheel = find(wheelId);
      return wheel ? asked(() => ports.measure.sheetTones(wheel, sheet, unit)) : undefined;
    },
  } satisfies Partial<AppActions>;
  return { actions };
}
