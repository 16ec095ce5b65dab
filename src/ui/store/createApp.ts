import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Wheel } from '../../spokes/wheel.ts';
import type { AppActions } from './appActions.ts';
import type { AppState, FilesState, ListeningState, Session } from './appState.ts';
import type { Desk } from './desk.ts';
import { evidenceActions } from './evidenceActions.ts';
import { fileActions } from './fileActions.ts';
import { heardUnseen } from './heardUnseen.ts';
import { INITIAL_STATE } from './initialState.ts';
import { listenActions } from './listenActions.ts';
import { measureQueue } from './measureQueue.ts';
import type { MessageCode } from './message.ts';
import { messageActions } from './messageActions.ts';
import type { Ports } from './ports.ts';
import { roundActions } from './roundActions.ts';
import { spareActions } from './spareActions.ts';
import type { App } from './useStore.ts';
import { wheelActions } from './wheelActions.ts';

/** The app and what the world outside may tell it by itself. */
export interface RunningApp extends App {
  readonly tell: (code: MessageCode, detail?: string) => void;
  /** What was told is true no longer. */
  readonly untell: (code: MessageCode) => void;
  /** Takes over what another tab saved, a round that is being walked included. */
  readonly adoptWheels: (wheels: readonly Wheel[]) => void;
  /** Goes on where the person was when the page closed. */
  readonly resume: (session: Session | undefined) => void;
  readonly updateReady: () => void;
  /** At once where nothing listens, else as soon as it stops. */
  readonly whenRoundRests: (then: () => void) => void;
  readonly offlineReady: () => void;
  readonly noticeWakeLock: (state: ListeningState['wakeLock']) => void;
  /** The page went out of sight, or came back. */
  readonly noticeSight: (inSight: boolean) => void;
  readonly noticeStorage: (persisted: FilesState['persisted'], storage: FilesState['storage']) => void;
  readonly refreshRecordings: () => Promise<void>;
  /** Settles when no measurement is under way. */
  readonly measured: () => Promise<void>;
}

/**
 * Puts state and actions together over the world outside. With simulated ports the whole app runs without a browser, which is
 * how it is tested.
 */
export function createApp(ports: Ports, initial: AppState = INITIAL_STATE): RunningApp {
  const store = createStore<AppState>(() => initial);
  const desk: Desk = {
    get: store.getState,
    set: (part) => store.setState(part),
    ports,
    live: { listening: undefined, excerpt: undefined },
  };
  const messages = messageActions(desk);
  const queue = measureQueue(desk, messages);
  const rounds = roundActions(desk, messages, queue);
  const listening = listenActions(desk, messages, rounds);
  const wheels = wheelActions(desk, messages, rounds, listening);
  const files = fileActions(desk, messages);
  const actions: AppActions = {
    ...messages.actions,
    ...rounds.actions,
    ...listening.actions,
    ...spareActions(desk, listening).actions,
    ...wheels.actions,
    ...files.actions,
    ...evidenceActions(desk, messages).actions,
  };
  offerUpdateOutsideRounds(store, messages.say);
  return {
    store,
    actions,
    tell: messages.say,
    untell: messages.unsay,
    adoptWheels: wheels.adopt,
    resume: wheels.resume,
    updateReady: () => desk.set({ update: 'ready' }),
    whenRoundRests: (then) => whenRoundRests(store, then),
    offlineReady: () => desk.set({ offline: 'ready' }),
    noticeWakeLock: (wakeLock) => {
      desk.set({ listening: { ...desk.get().listening, wakeLock } });
      if (wakeLock === 'unavailable') messages.say('wakeLockMissing');
      if (wakeLock === 'held') messages.unsay('wakeLockMissing');
    },
    noticeSight: heardUnseen(desk, messages),
    noticeStorage: (persisted, storage) => desk.set({ files: { ...desk.get().files, persisted, storage } }),
    refreshRecordings: files.refreshRecordings,
    measured: queue.settled,
  };
}

/** A new version is offered once, and never while a round is open: it reloads the page. */
function offerUpdateOutsideRounds(store: StoreApi<AppState>, say: (code: MessageCode) => void): void {
  const isDue = ({ update, round }: AppState) =>
    update === 'ready' && (round === undefined || round.phase === 'finished');
  asSoonAs(store, isDue, () => say('updateReady'));
}

/** Another tab's update must not take the microphone from this one. */
function whenRoundRests(store: StoreApi<AppState>, then: () => void): void {
  asSoonAs(store, ({ listening }) => listening.status === 'off' || listening.status === 'failed', then);
}

/** At once if the state is so already, else at the first that is. */
function asSoonAs(store: StoreApi<AppState>, is: (state: AppState) => boolean, then: () => void): void {
  if (is(store.getState())) {
    then();
    return;
  }
  const stop = store.subscribe((state) => {
    if (!is(state)) return;
    stop();
    then();
  });
}
