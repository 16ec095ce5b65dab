import type { WavReason } from '../../audio/decodeWav.ts';

/**
 * What the app has to tell besides a reading. The store keeps the code; `ui/text/messageText.ts` has the sentence and
 * what to do next.
 */
export interface Message {
  readonly id: number;
  readonly code: MessageCode;
  /** A name or figure that belongs into the sentence. */
  readonly detail?: string;
  readonly weight: 'note' | 'warning' | 'problem';
  /** What the message's button does; absent: it only closes. */
  readonly offer?: MessageOffer;
}

export type MessageOffer = 'exportEverything' | 'listenAgain' | 'reload' | 'applyUpdate';

export type MessageCode = CaptureProblem | StorageProblem | FileProblem | SoundFileProblem | AppNote;

/** Why nothing, or not the true sound, comes from the microphone. */
export type CaptureProblem =
  | 'microphoneRefused'
  | 'microphoneAbsent'
  | 'microphoneBusy'
  | 'microphoneUnsupported' // no secure context, or a browser without it
  | 'microphoneEnded' // taken away in mid-round
  | 'microphoneChanged' // another was put on, taken off or chosen in mid-round
  | 'microphoneMuted'
  | 'microphoneSilent' // only zeros arrive
  | 'microphoneBluetooth'
  | 'rateTooLow'
  | 'rateUntrue' // samples counted against the clock disagree with the stated rate
  | 'soundProcessed' // echo cancellation, noise suppression or gain control is still on
  | 'soundInterrupted' // a call, the lock screen, another app
  | 'soundDidNotStart'
  | 'samplesLost'
  | 'earFailed' // the worker stopped
  | 'heardElsewhere'; // another tab listens

export type StorageProblem =
  | 'storageFull'
  | 'storageRefused'
  | 'storageBlocked' // another tab holds an older version open
  | 'storageLost' // the browser closed the database
  | 'changedElsewhere' // another tab changed what was changed here
  | 'changedThere' // another tab changed the wheel that lies open here
  | 'storageUnreadable' // a saved wheel did not pass the gate
  | 'storageMayBeCleared'; // the browser did not promise to keep it

export type FileProblem =
  | 'fileNotJson'
  | 'fileNotOurs'
  | 'fileNewer'
  | 'fileBroken'
  | 'fileEmpty'
  | 'fileUnreadable'
  | 'fileTooLarge'
  | 'backupTooLarge'
  | 'wheelTooLarge'
  | 'fileSpokesUnknown' // kept, count for nothing
  | 'fileFieldsUnknown' // passed over; the rest is taken
  | 'shareFailed';

/** Why a sound file was not heard: the reader's own reason. */
export type SoundFileProblem = `sound:${WavReason}`;

export type AppNote =
  | 'wheelSaved'
  | 'wheelDeleted'
  | 'fileExported'
  | 'fileImported'
  | 'roundContinued' // an open round was found after a reload
  | 'roundFinished'
  | 'heardUnseen' // settled while the page was out of sight
  | 'updateReady'
  | 'wakeLockMissing'
  | 'measureFailed';
