import type { EarEvent } from '../../audio/earEvent.ts';
import type { CaptureNews } from '../../audio/edge/captureNews.ts';
import type { CaptureSettings, ExpectedAtTension, How, MeasureRefusal, Reading } from '../../contract.ts';
import type { Learned } from '../../physics/spokeTones.ts';
import type { SecondReading } from '../../spokes/compareMethods.ts';
import type { CrossCalibration } from '../../spokes/crossCalibrate.ts';
import type { SpareSpoke } from '../../spokes/describeSpare.ts';
import type { ZipRead } from '../../spokes/readZip.ts';
import type { Sheet } from '../../spokes/sheet.ts';
import type { SheetTones } from '../../spokes/sheetTones.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import type { TensionUnit } from '../../units.ts';
import type { SourceKind } from './appState.ts';
import type { CaptureProblem, SoundFileProblem } from './message.ts';

/** Everything the actions need of the world outside; real in `ui/edge`, simulated in tests. */
export interface Ports {
  readonly clock: Clock;
  readonly listen: ListenPort;
  readonly measure: MeasurePort;
  readonly feedback: FeedbackPort;
  readonly wakeLock: { hold(): void; release(): void };
  readonly files: FilesPort;
  readonly recordings: RecordingsPort;
  readonly update: { apply(): void };
}

export interface Clock {
  /** ISO 8601, UTC. */
  now(): string;
  newId(): string;
}

export type FeedbackSignal = 'taken' | 'settled' | 'refused' | 'finished';
export interface FeedbackPort {
  /** Inside a tap: later sounds are then allowed. */
  unlock(): void;
  /** Each returns the seconds during which the device sounds or shakes. */
  give(signal: FeedbackSignal, want: { readonly sound: boolean; readonly vibration: boolean }): number;
  speak(sentence: string): number;
}

/** An ear that listens to something. */
export interface Listening {
  readonly kind: SourceKind;
  readonly settings: CaptureSettings;
  expect(expected: readonly ExpectedAtTension[] | undefined): void;
  holdOff(durationS: number): void;
  close(): void;
}
export interface ListenHandlers {
  readonly onEar: (event: EarEvent) => void;
  readonly onNews: (news: CaptureNews | MicrophoneChanged) => void;
}
/** Another microphone may be heard now than the one that was checked. */
export interface MicrophoneChanged {
  readonly kind: 'problem';
  readonly problem: 'microphoneChanged';
  readonly detail: string;
}
export interface ListenFailure {
  readonly ok: false;
  readonly problem: CaptureProblem | SoundFileProblem | 'fileUnreadable';
  readonly detail?: string;
}
export type Opened = { readonly ok: true; readonly listening: Listening } | ListenFailure;
export interface ListenPort {
  microphone(handlers: ListenHandlers): Promise<Opened>;
  file(file: Blob, handlers: ListenHandlers): Promise<Opened>;
  /** @param askSpoke which spoke the demo's hand shall pluck now; absent while it should wait */
  demo(
    wheel: Wheel,
    options: { readonly aloud: boolean; readonly speed: 'real' | 'fast' },
    askSpoke: () => number | undefined,
    handlers: ListenHandlers,
  ): Promise<Opened>;
}

export interface MeasuredWheel {
  readonly readings: Readonly<Record<number, Reading | MeasureRefusal>>;
  readonly learned: Readonly<Record<string, Learned>>;
  readonly calibrations?: Readonly<Record<string, Reading | MeasureRefusal>>;
}
export interface MeasurePort {
  /** All of a round's plucks together. */
  round(wheel: Wheel, round: Round): Promise<MeasuredWheel>;
  /** The tones that a spoke would have on a ladder of tensions; absent where it is not described. */
  expected(wheel: Wheel, spoke: number, how: How): Promise<readonly ExpectedAtTension[] | undefined>;
  /** The same for a loose spoke under load; absent where it cannot be described. */
  expectedSpare(wheel: Wheel, spare: SpareSpoke, how: How): Promise<readonly ExpectedAtTension[] | undefined>;
  crossCalibrate(wheel: Wheel, round: Round, second: ReadonlyMap<number, SecondReading>): Promise<CrossCalibration>;
  sheetTones(wheel: Wheel, sheet: Sheet, unit: TensionUnit | undefined): Promise<SheetTones>;
}

export interface FilesPort {
  share(
    name: string,
    type: string,
    content: string | Uint8Array<ArrayBuffer>,
  ): Promise<'shared' | 'downloaded' | 'cancelled' | 'failed'>;
  /** All files of an archive, or why there are none. */
  unpack(bytes: Uint8Array<ArrayBuffer>): Promise<Unpacked>;
}
export type Unpacked =
  | { readonly ok: true; readonly entries: readonly { readonly name: string; readonly bytes: Uint8Array }[] }
  | { readonly ok: false; readonly reason: ZipReason; readonly detail: string };
export type ZipReason = Extract<ZipRead, { ok: false }>['reason'];

export interface RecordingsPort {
  keep(recording: {
    readonly id: string;
    readonly wheelId: string;
    readonly roundId: string;
    readonly samples: Float32Array<ArrayBuffer>;
    readonly sampleRateHz: number;
  }): Promise<void>;
  /** Takes over one that was kept elsewhere; one that is here stays as it is. */
  put(recording: {
    readonly id: string;
    readonly wheelId: string;
    readonly roundId: string;
    readonly wav: Uint8Array;
  }): Promise<void>;
  size(): Promise<{ readonly count: number; readonly bytes: number }>;
  deleteAll(): Promise<void>;
  /**
   * Archives of those recordings that are still kept, each under its file name, one after the other made when it is asked for: each holds all the
   * text files and is small enough to be read again. Nearly always one.
   */
  archives(
    texts: Readonly<Record<string, string>>,
    names: ReadonlyMap<string, string>,
  ): AsyncIterable<Uint8Array<ArrayBuffer>>;
}
