import type { EarEvent } from '../../audio/earEvent.ts';
import type { AppActions } from './appActions.ts';
import type { ListeningState } from './appState.ts';
import type { Desk } from './desk.ts';
import type { CaptureProblem } from './message.ts';
import type { Messages } from './messageActions.ts';
import type { ListenHandlers, Opened } from './ports.ts';
import type { RoundActions } from './roundActions.ts';

/** While one of these lasts nothing is heard; the round waits for it to pass. */
const PAUSES: ReadonlySet<string> = new Set(['soundInterrupted', 'microphoneMuted']);

/** What a new start asks the device anew about. */
const ASKED_ANEW = [
  'microphoneRefused',
  'microphoneAbsent',
  'microphoneBusy',
  'microphoneUnsupported',
  'microphoneEnded',
  'microphoneChanged',
  'microphoneMuted',
  'microphoneSilent',
  'microphoneBluetooth',
  'rateTooLow',
  'rateUntrue',
  'soundProcessed',
  'soundInterrupted',
  'soundDidNotStart',
  'earFailed',
  'heardElsewhere',
] as const satisfies readonly CaptureProblem[];

/** After these no pluck can be trusted, or none can come: listening stops and the round stands. */
const FATAL: ReadonlySet<string> = new Set([
  'microphoneEnded',
  'microphoneChanged',
  'rateUntrue',
  'earFailed',
  'soundDidNotStart',
]);

export type ListenActions = ReturnType<typeof listenActions>;

/** Whoever makes something of what the ear says: the round, or a loose spoke. */
export interface EarUser {
  readonly onEar: (event: EarEvent) => void;
  readonly soundBegan: () => void;
  readonly soundEnded: () => void;
}

/** Opens one ear at a time and brings what it says to the round. */
export function listenActions({ get, set, ports, live }: Desk, { say, unsay }: Messages, rounds: RoundActions) {
  /** Counts up with every start and stop; what an older ear still says is not heard. */
  let turn = 0;
  let user: EarUser = rounds;
  const isPaused = () => get().messages.some(({ code }) => PAUSES.has(code));
  const put = (part: Partial<ListeningState>) => set({ listening: { ...get().listening, ...part } });

  const stop = (status: ListeningState['status'] = 'off') => {
    turn++;
    live.listening?.close();
    live.listening = undefined;
    ports.wakeLock.release();
    if (get().listening.status !== status || get().listening.source)
      put({ status, level: 'silent', early: undefined, source: undefined });
  };
  const onNews: ListenHandlers['onNews'] = (news) => {
    if (news.kind === 'mended') {
      unsay(news.problem);
      if (PAUSES.has(news.problem) && !isPaused()) put({ status: 'on' });
    } else if (news.kind === 'ended') {
      user.soundEnded();
      stop();
    } else if (news.kind === 'rebuild') {
      void reopen();
    } else {
      say(news.problem, news.detail);
      if (PAUSES.has(news.problem)) put({ status: 'interrupted' });
      if (FATAL.has(news.problem)) {
        user.soundEnded();
        stop('failed');
      }
    }
  };
  const start = async (open: (handlers: ListenHandlers) => Promise<Opened>, by: EarUser = rounds) => {
    stop();
    user = by;
    const mine = ++turn;
    for (const problem of ASKED_ANEW) unsay(problem);
    put({ status: 'opening' });
    const opened = await open({
      onEar: (event) => {
        if (mine === turn) by.onEar(event);
      },
      onNews: (news) => {
        if (mine === turn) onNews(news);
      },
    });
    if (mine !== turn) {
      if (opened.ok) opened.listening.close();
      return;
    }
    if (!opened.ok) {
      say(opened.problem, opened.detail);
      put({ status: 'failed' });
      return;
    }
    live.listening = opened.listening;
    put({
      status: isPaused() ? 'interrupted' : 'on',
      source: opened.listening.kind,
      settings: opened.listening.settings,
    });
    ports.wakeLock.hold();
    by.soundBegan();
  };
  /** Back from the background with a frozen device: everything is built anew, and only a failure is told. */
  const reopen = () => start((handlers) => ports.listen.microphone(handlers), user);

  /** Opens the microphone for whoever wants it. */
  const listenFor = (by: EarUser) => {
    ports.feedback.unlock();
    return start((handlers) => ports.listen.microphone(handlers), by);
  };

  const actions = {
    listenToMicrophone: () => listenFor(rounds),
    listenToDemo: (options) => {
      ports.feedback.unlock();
      const wheel = get().wheels.list.find((one) => one.id === get().wheels.openId);
      if (!wheel) return Promise.resolve();
      return start((handlers) => ports.listen.demo(wheel, options, rounds.spokeToPluck, handlers));
    },
    listenToFile: (file, name) =>
      start(async (handlers) => {
        const opened = await ports.listen.file(file, handlers);
        return opened.ok ? opened : { ...opened, detail: name };
      }),
    stopListening: () => {
      user.soundEnded();
      stop();
    },
    lastExcerpt: () => live.excerpt,
  } satisfies Partial<AppActions>;
  return { actions, stop, listenFor };
}
