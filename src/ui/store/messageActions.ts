import type { AppActions } from './appActions.ts';
import type { Desk } from './desk.ts';
import type { Message, MessageCode, MessageOffer } from './message.ts';

const WEIGHT: Partial<Record<MessageCode, Message['weight']>> = {
  microphoneSilent: 'warning',
  microphoneMuted: 'warning',
  soundProcessed: 'warning',
  soundInterrupted: 'warning',
  samplesLost: 'warning',
  fileFieldsUnknown: 'warning',
  fileSpokesUnknown: 'warning',
  storageMayBeCleared: 'note',
  changedElsewhere: 'warning',
  changedThere: 'warning',
  wheelSaved: 'note',
  wheelDeleted: 'note',
  fileExported: 'note',
  fileImported: 'note',
  roundContinued: 'note',
  roundFinished: 'note',
  heardUnseen: 'note',
  updateReady: 'note',
  wakeLockMissing: 'note',
};

const OFFER: Partial<Record<MessageCode, MessageOffer>> = {
  storageFull: 'exportEverything',
  storageRefused: 'exportEverything',
  storageLost: 'exportEverything',
  storageMayBeCleared: 'exportEverything',
  microphoneEnded: 'listenAgain',
  microphoneChanged: 'listenAgain',
  microphoneSilent: 'listenAgain',
  soundDidNotStart: 'listenAgain',
  soundInterrupted: 'listenAgain',
  earFailed: 'listenAgain',
  microphoneBusy: 'listenAgain',
  rateUntrue: 'reload',
  measureFailed: 'reload',
  updateReady: 'applyUpdate',
};

/** More than this at once is read by nobody; the oldest go. */
const MOST_MESSAGES = 4;

export type Messages = ReturnType<typeof messageActions>;

/** Messages, preferences and the update: what belongs to the app as a whole. */
export function messageActions({ get, set, ports }: Desk) {
  let lastId = 0;
  /** The same message twice is one message, the newer. */
  const say = (code: MessageCode, detail?: string) => {
    const others = get().messages.filter((message) => message.code !== code);
    lastId++;
    const offer = OFFER[code];
    const message: Message = {
      id: lastId,
      code,
      weight: WEIGHT[code] ?? 'problem',
      ...(detail === undefined ? {} : { detail }),
      ...(offer ? { offer } : {}),
    };
    set({ messages: [...others, message].slice(-MOST_MESSAGES) });
  };
  const unsay = (code: MessageCode) => {
    if (get().messages.some((message) => message.code === code))
      set({ messages: get().messages.filter((message) => message.code !== code) });
  };
  const actions = {
    setPreference: (key, value) => set({ preferences: { ...get().preferences, [key]: value } }),
    dismiss: (id) => set({ messages: get().messages.filter((message) => message.id !== id) }),
    applyUpdate: () => ports.update.apply(),
  } satisfies Partial<AppActions>;
  return { say, unsay, actions };
}
