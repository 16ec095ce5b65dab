import type { CaptureSettings, HeardFlag, HearReason, How, MeasureRefusal, Reading, Tone } from '../../contract.ts';
import type { Learned } from '../../physics/spokeTones.ts';
import type { NewId } from '../../spokes/ownIds.ts';
import type { HeardPluck, WalkOutcome } from '../../spokes/walkRound.ts';
import type { Pluck, Round, Side, Wheel } from '../../spokes/wheel.ts';
import type { Hertz, Seconds } from '../../units.ts';
import type { Message } from './message.ts';
import type { Preferences } from './preferences.ts';

/** Everything the screens show. Plain and serialisable; changed by `AppActions` alone. */
export interface AppState {
  readonly wheels: WheelsState;
  readonly round: LiveRound | undefined;
  /** A loose spoke under a known load, while it is heard. */
  readonly spare: SpareHearing | undefined;
  /** What the tones of a round mean, by round id; computed in a worker, absent until it answered. */
  readonly measured: Readonly<Record<string, MeasuredRound>>;
  readonly listening: ListeningState;
  readonly preferences: Preferences;
  readonly files: FilesState;
  readonly messages: readonly Message[];
  /** Where the person was, so that a reload or a crash goes on there. */
  readonly session: Session | undefined;
  readonly update: 'none' | 'ready';
  /** `ready`: everything is kept on this device, and the app starts without a network. */
  readonly offline: 'unknown' | 'ready';
}

export interface Session {
  readonly wheelId: string;
  readonly roundId: string | undefined;
  readonly spoke: number | undefined;
}

export interface WheelsState {
  readonly status: 'loading' | 'ready' | 'failed';
  /** Most recently changed first. */
  readonly list: readonly Wheel[];
  /** Of the wheel on screen. */
  readonly openId: string | undefined;
  /** Raw text of unfinished forms by form name, so that nothing typed is lost. */
  readonly drafts: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

/** The round that is being walked, or was just finished, on the open wheel. */
export interface LiveRound {
  readonly wheelId: string;
  /** As it is saved; `round.plucks` are the taken ones. */
  readonly round: Round;
  /** `walking`: a pluck counts; `paused`: it does not; `closing`: the first spoke once more; `finished`. */
  readonly phase: 'walking' | 'paused' | 'closing' | 'finished';
  /** To pluck now, from 1. */
  readonly spoke: number;
  readonly side: Side;
  /** How it is to be plucked. */
  readonly how: How;
  /** Side of each place. */
  readonly sides: readonly Side[];
  /** After this one settles; absent at the end. */
  readonly nextSpoke: number | undefined;
  /** Taken plucks of `spoke` that agree so far. */
  readonly agreeing: number;
  readonly plucksToSettle: number;
  readonly settled: readonly number[];
  readonly skipped: readonly number[];
  readonly spokeCount: number;
  readonly last: LastPluck | undefined;
  /** Of the pass over the first spoke at the end: heard then against heard first; says whether a place was slipped. */
  readonly closing: ClosingResult | undefined;
}

export interface ClosingResult {
  readonly agrees: boolean;
  /** (second − first) / first in frequency over the tones that both have, in percent; absent where they have none in common. */
  readonly driftPercent: number | undefined;
}

/** The newest sound, taken or not. */
export type LastPluck = {
  /** Counts up; a new number is a new sound. */
  readonly serial: number;
  readonly spoke: number;
  readonly onsetS: Seconds;
} & (
  | {
      readonly taken: true;
      readonly pluck: HeardPluck;
      /** What became of it; `differs` and `contested` wait for one that agrees. */
      readonly outcome: WalkOutcome;
      readonly settledNow: boolean;
      readonly flags: readonly HeardFlag[];
    }
  | { readonly taken: false; readonly why: HearReason; readonly detail: string | undefined }
);

export interface MeasuredRound {
  readonly status: 'working' | 'ready' | 'failed';
  /** By spoke number. */
  readonly readings: Readonly<Record<number, Reading | MeasureRefusal>>;
  /** By group. */
  readonly learned: Readonly<Record<string, Learned>>;
  /** By calibration that brings tones of its own. */
  readonly calibrations?: Readonly<Record<string, Reading | MeasureRefusal>>;
}

/** Plucks of a spoke that is in no wheel: credited to nothing until the person takes them for a calibration. */
export interface SpareHearing {
  readonly wheelId: string;
  readonly plucks: readonly Pluck[];
  /** Those that agree, oldest first. */
  readonly agreeing: readonly Pluck[];
  readonly settled: boolean;
  /** The newest sound, where it was not taken. */
  readonly refused: HearReason | undefined;
}

export interface ListeningState {
  readonly status: 'off' | 'opening' | 'on' | 'interrupted' | 'failed';
  readonly source: SourceKind | undefined;
  readonly level: 'silent' | 'quiet' | 'good' | 'tooLoud';
  /** The first tone a quarter of a second after the pluck, before the final answer. */
  readonly early: { readonly onsetS: Seconds; readonly firstToneHz: Hertz } | undefined;
  readonly settings: CaptureSettings | undefined;
  readonly wakeLock: 'off' | 'held' | 'unavailable';
  /** The excerpt and tones of the newest pluck are for drawing, see `AppActions.lastExcerpt`. */
  readonly spectrumSerial: number;
}
export type SourceKind = 'microphone' | 'demo' | 'file';

export interface FilesState {
  /** A file was read and waits for yes or no. */
  readonly importPreview: ImportPreview | undefined;
  readonly recordings: { readonly count: number; readonly bytes: number };
  /** What the browser says of its storage; absent: it does not say. */
  readonly storage: { readonly usedBytes: number; readonly quotaBytes: number } | undefined;
  readonly persisted: 'unknown' | 'yes' | 'no';
}

export interface ImportPreview {
  readonly fileName: string;
  readonly added: readonly Wheel[];
  /** Known here already; `roundsAdded` come to what is there. */
  readonly merged: readonly { readonly wheel: Wheel; readonly roundsAdded: number }[];
  readonly unchanged: readonly Wheel[];
  /** What had the id of something else, and is kept beside it under one of its own. */
  readonly newIds: readonly WheelsNewId[];
  /** That come along in the archive. */
  readonly recordings?: number;
}

export interface WheelsNewId extends NewId {
  readonly wheelName: string;
}

/** The sound of the newest pluck with what the ear took from it; not in the store, for it is large. */
export interface LastExcerpt {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly sampleRateHz: Hertz;
  readonly startS: Seconds;
  readonly onsetS: Seconds;
  readonly tones: readonly Tone[];
}

export interface RoundStart {
  readonly how: How;
  /** Absent: from the preferences. */
  readonly order?: Round['order'];
  readonly plucksToSettle?: number;
  readonly firstSpoke?: number;
}
