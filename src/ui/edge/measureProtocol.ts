import type { ExpectedAtTension, How } from '../../contract.ts';
import type { SecondReading } from '../../spokes/compareMethods.ts';
import type { CrossCalibration } from '../../spokes/crossCalibrate.ts';
import type { SpareSpoke } from '../../spokes/describeSpare.ts';
import type { Sheet } from '../../spokes/sheet.ts';
import type { SheetTones } from '../../spokes/sheetTones.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import type { TensionUnit } from '../../units.ts';
import type { MeasuredWheel } from '../store/ports.ts';

/** To the measuring worker; the answer carries the same number. */
export type MeasureRequest = { readonly id: number } & (
  | { readonly kind: 'round'; readonly wheel: Wheel; readonly round: Round }
  | { readonly kind: 'expected'; readonly wheel: Wheel; readonly spoke: number; readonly how: How }
  | { readonly kind: 'expectedSpare'; readonly wheel: Wheel; readonly spare: SpareSpoke; readonly how: How }
  | {
      readonly kind: 'crossCalibrate';
      readonly wheel: Wheel;
      readonly round: Round;
      readonly second: ReadonlyMap<number, SecondReading>;
    }
  | {
      readonly kind: 'sheetTones';
      readonly wheel: Wheel;
      readonly sheet: Sheet;
      readonly unit: TensionUnit | undefined;
    }
);

export type MeasureAnswer = { readonly id: number } & (
  | { readonly kind: 'round'; readonly measured: MeasuredWheel }
  | { readonly kind: 'expected' | 'expectedSpare'; readonly expected: readonly ExpectedAtTension[] | undefined }
  | { readonly kind: 'crossCalibrate'; readonly calibrated: CrossCalibration }
  | { readonly kind: 'sheetTones'; readonly tones: SheetTones }
  | { readonly kind: 'failed'; readonly message: string }
);
