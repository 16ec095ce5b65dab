import { WHEEL_FORMAT, WHEEL_VERSION, type Wheel } from '../../spokes/wheel.ts';
import { readWheelFile } from '../../spokes/wheelFile.ts';
import type { AppActions } from './appActions.ts';
import type { Session } from './appState.ts';
import { demoWheel } from './demoWheels.ts';
import type { Desk } from './desk.ts';
import type { ListenActions } from './listenActions.ts';
import { newestFirst } from './mergeWheels.ts';
import type { Messages } from './messageActions.ts';
import type { RoundActions } from './roundActions.ts';

/** The shelf: what is on it, which wheel lies open, and the forms half filled in. */
export function wheelActions(
  { get, set, ports }: Desk,
  { say }: Messages,
  rounds: RoundActions,
  listening: ListenActions,
) {
  const find = (id: string) => get().wheels.list.find((wheel) => wheel.id === id);
  const put = (wheel: Wheel) => {
    const { wheels } = get();
    const list = newestFirst([...wheels.list.filter((one) => one.id !== wheel.id), wheel]);
    set({ wheels: { ...wheels, list } });
  };
  const change = (id: string, make: (wheel: Wheel) => Wheel) => {
    const wheel = find(id);
    if (wheel) put({ ...make(wheel), changedAt: ports.clock.now() });
  };
  const close = () => {
    listening.stop();
    rounds.leave();
    set({ wheels: { ...get().wheels, openId: undefined }, session: undefined, spare: undefined });
  };
  const open = (id: string) => {
    if (!find(id) || get().wheels.openId === id) return;
    close();
    set({
      wheels: { ...get().wheels, openId: id },
      session: { wheelId: id, roundId: undefined, spoke: undefined },
    });
    rounds.resumeOpenRound(id);
  };
  const resume = (session: Session | undefined) => {
    if (!session) return;
    open(session.wheelId);
    if (get().round && session.spoke) rounds.standAt(session.spoke);
  };
  const actions = {
    saveWheel: (wheel) => {
      put({ ...completed(wheel), changedAt: ports.clock.now() });
      rounds.describedAnew(wheel.id);
    },
    copyWheel: (id, name) => {
      const wheel = find(id);
      const copyId = ports.clock.newId();
      const now = ports.clock.now();
      if (wheel) put({ ...wheel, id: copyId, name, createdAt: now, changedAt: now, rounds: [], calibrations: [] });
      return copyId;
    },
    deleteWheel: (id) => {
      const wheel = find(id);
      if (!wheel) return;
      if (get().wheels.openId === id) close();
      set({ wheels: { ...get().wheels, list: get().wheels.list.filter((one) => one.id !== id) } });
      say('wheelDeleted', wheel.name);
    },
    openWheel: open,
    closeWheel: close,
    openDemo: (name) => {
      const { wheel } = demoWheel(name);
      if (!find(wheel.id)) put({ ...wheel, changedAt: ports.clock.now() });
      open(wheel.id);
      return wheel.id;
    },
    setWheelState: (id, state) => change(id, (wheel) => ({ ...wheel, state })),
    addCalibration: (id, calibration) => {
      change(id, (wheel) => ({ ...wheel, calibrations: [...wheel.calibrations, calibration] }));
      rounds.describedAnew(id);
    },
    removeCalibration: (id, calibrationId) => {
      change(id, (wheel) => ({
        ...wheel,
        calibrations: wheel.calibrations.filter((calibration) => calibration.id !== calibrationId),
      }));
      rounds.describedAnew(id);
    },
    setDraft: (form, fields) => {
      const { wheels } = get();
      set({ wheels: { ...wheels, drafts: { ...wheels.drafts, [form]: fields } } });
    },
    clearDraft: (form) => {
      const { wheels } = get();
      const { [form]: _, ...drafts } = wheels.drafts;
      set({ wheels: { ...wheels, drafts } });
    },
    newId: () => ports.clock.newId(),
    now: () => ports.clock.now(),
  } satisfies Partial<AppActions>;
  /** As another tab left them. */
  const adopt = (list: readonly Wheel[]) => {
    set({ wheels: { ...get().wheels, list: newestFirst(list) } });
    const { openId } = get().wheels;
    if (openId !== undefined && !find(openId)) close();
    else if (openId !== undefined) rounds.adopt(openId);
  };
  return { actions, resume, adopt };
}

/** With every default that the format has: what a form left out is then the same as after a reload. */
function completed(wheel: Wheel): Wheel {
  const read = readWheelFile({ format: WHEEL_FORMAT, version: WHEEL_VERSION, wheel });
  return read.ok ? read.wheel : wheel;
}
