import type { RoundOrder } from '../../spokes/wheel.ts';
import type { LengthUnit, TensionUnit } from '../../units.ts';

/** What the person chose once, for every wheel. Saved on this device only. */
export interface Preferences {
  readonly tensionUnit: TensionUnit;
  readonly lengthUnit: LengthUnit;
  readonly theme: 'system' | 'light' | 'dark' | 'sunlight';
  readonly hand: 'right' | 'left';
  /** The app's own sounds while a round is walked. */
  readonly sound: boolean;
  readonly vibration: boolean;
  /** Speaks each settled spoke and the next place. */
  readonly speech: boolean;
  /** Plucks that must agree before a spoke counts as settled. */
  readonly plucksToSettle: number;
  readonly order: RoundOrder;
  /** Keeps a short recording of each taken pluck on this device. */
  readonly keepRecordings: boolean;
  /** The first-run words on privacy and care have been read. */
  readonly introductionRead: boolean;
  /** Name put on rounds and reports. */
  readonly person: string;
  /** ISO 8601, of the last file that holds everything. */
  readonly lastBackupAt?: string;
}

/** As the app starts for the first time. */
export const DEFAULT_PREFERENCES: Preferences = {
  tensionUnit: 'N',
  lengthUnit: 'mm',
  theme: 'system',
  hand: 'right',
  sound: true,
  vibration: true,
  speech: false,
  plucksToSettle: 2,
  order: 'byPlace',
  keepRecordings: false,
  introductionRead: false,
  person: '',
};
