import type { How } from '../../contract.ts';
import type { SecondReading } from '../../spokes/compareMethods.ts';
import type { CrossCalibration } from '../../spokes/crossCalibrate.ts';
import type { SpareSpoke } from '../../spokes/describeSpare.ts';
import type { Gauge } from '../../spokes/gauge.ts';
import type { Sheet } from '../../spokes/sheet.ts';
import type { SheetTones } from '../../spokes/sheetTones.ts';
import type { Calibration, Wheel, WheelState } from '../../spokes/wheel.ts';
import type { Hertz, TensionUnit } from '../../units.ts';
import type { LastExcerpt, RoundStart } from './appState.ts';
import type { Preferences } from './preferences.ts';

/** The demo wheels that can be tried without a wheel. */
export type DemoName = 'steelRear' | 'compositeRear';

/** All that a screen can ask for. Every action returns at once unless it says what it waits for. */
export interface AppActions {
  // wheels
  /** Adds or replaces by id and saves; sets `changedAt`. */
  saveWheel(wheel: Wheel): void;
  /** A new wheel with the same description, no rounds and no calibrations; returns its id. */
  copyWheel(id: string, name: string): string;
  deleteWheel(id: string): void;
  /** Continues the wheel's open round, paused, if it has one. */
  openWheel(id: string): void;
  closeWheel(): void;
  /** Puts the demo wheel on the shelf if it is not there, opens it and returns its id. */
  openDemo(name: DemoName): string;
  setWheelState(id: string, state: WheelState): void;
  addCalibration(wheelId: string, calibration: Calibration): void;
  removeCalibration(wheelId: string, calibrationId: string): void;
  setDraft(form: string, fields: Readonly<Record<string, string>>): void;
  clearDraft(form: string): void;
  newId(): string;
  /** ISO 8601, UTC. */
  now(): string;

  // the round
  startRound(start: RoundStart): void;
  pauseRound(): void;
  continueRound(): void;
  /** Ends it as it stands; what was not heard stays unheard. */
  finishRound(): void;
  /** The place before; its plucks stay. */
  goBack(): void;
  /** Puts the spoke's plucks aside and hears it again. */
  repeatSpoke(): void;
  skipSpoke(): void;
  jumpTo(spoke: number): void;
  /** Takes a round of the open wheel up again, ended or not, at this spoke; a pluck counts once it listens. */
  hearAgain(roundId: string, spoke: number): void;
  /** Puts the live round down, so that a new one can begin; an unended one stays open on the wheel. */
  leaveRound(): void;
  /** Says a sentence aloud where that is wanted; the ear is deaf meanwhile. */
  speak(sentence: string): void;
  /** Moves every reading of places after `spoke` by one place along the order, forwards or backwards. */
  moveAllAfter(spoke: number, direction: 'forward' | 'backward'): void;
  putAside(pluckId: string): void;
  takeBack(pluckId: string): void;
  /** Tones read off another instrument, credited like a pluck. */
  typeTones(spoke: number, tonesHz: readonly Hertz[]): void;
  /** Asks for the tensions of a finished or running round; the answer comes into `measured`. */
  measureRound(wheelId: string, roundId: string): void;
  deleteRound(wheelId: string, roundId: string): void;

  // listening
  /** Call inside the tap: browsers open the microphone and sound only then. Settles when it hears or has failed. */
  listenToMicrophone(): Promise<void>;
  /** The open demo wheel's plucks go through the same ear; `aloud` plays them too. */
  listenToDemo(options: { readonly aloud: boolean; readonly speed: 'real' | 'fast' }): Promise<void>;
  listenToFile(file: Blob, name: string): Promise<void>;
  stopListening(): void;
  /** A loose spoke under a known load, plucked twice or more; what is heard comes into `spare`. Call inside the tap. */
  hearSpare(wheelId: string, spare: SpareSpoke, how: How): Promise<void>;
  /** Stops hearing it and forgets its plucks. */
  forgetSpare(): void;
  lastExcerpt(): LastExcerpt | undefined;

  // second methods
  /** Replaces the wheel's gauges; tensions by ear do not depend on them and are not computed anew. */
  saveGauges(wheelId: string, gauges: readonly Gauge[]): void;
  /** Reads a round with one half of the gauge's spokes known and the other judged, both ways; undefined where it failed and was said. */
  calibrateByGauge(
    wheelId: string,
    roundId: string,
    second: ReadonlyMap<number, SecondReading>,
  ): Promise<CrossCalibration | undefined>;
  /** A sheet's tones through this wheel's members; undefined where it failed and was said. */
  measureSheet(wheelId: string, sheet: Sheet, unit: TensionUnit | undefined): Promise<SheetTones | undefined>;

  // preferences, messages, files, update
  setPreference<K extends keyof Preferences>(key: K, value: Preferences[K]): void;
  dismiss(messageId: number): void;
  exportWheel(id: string): Promise<void>;
  exportEverything(): Promise<void>;
  /** Hands any text or picture that a screen made to the share sheet, or downloads it. */
  shareFile(name: string, type: string, content: string): Promise<void>;
  /** Reads and checks; the answer is `files.importPreview` or a message. */
  readFile(file: Blob, name: string): Promise<void>;
  confirmImport(): void;
  cancelImport(): void;
  /** The wheel's file and all its recordings in one archive, for a second opinion at a desk; `texts` by file name come along. */
  exportRecordings(wheelId: string, texts?: Readonly<Record<string, string>>): Promise<void>;
  deleteRecordings(): Promise<void>;
  applyUpdate(): void;
}
