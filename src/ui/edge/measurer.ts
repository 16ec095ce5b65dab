import type { ExpectedAtTension, How } from '../../contract.ts';
import { expectedTones } from '../../physics/expectedTones.ts';
import type { DescribedMember } from '../../physics/member.ts';
import { type PreparedMember, prepareMember } from '../../physics/prepareMember.ts';
import type { SecondReading } from '../../spokes/compareMethods.ts';
import { type CrossCalibration, crossCalibrate } from '../../spokes/crossCalibrate.ts';
import { describeMember } from '../../spokes/describeMember.ts';
import { describeSpare, type SpareSpoke, sideOfKind } from '../../spokes/describeSpare.ts';
import { expandLayout } from '../../spokes/expandLayout.ts';
import { readRound } from '../../spokes/readRound.ts';
import type { Sheet } from '../../spokes/sheet.ts';
import { type SheetTones, sheetTones } from '../../spokes/sheetTones.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import type { TensionUnit } from '../../units.ts';
import type { MeasuredWheel } from '../store/ports.ts';

/** Members kept ready; a wheel has a handful of different ones. */
const MOST_PREPARED = 24;

/** Turns rounds into tensions; keeps what is tabulated once per described member. */
export interface Measurer {
  round(wheel: Wheel, round: Round): MeasuredWheel;
  expected(wheel: Wheel, spoke: number, how: How): readonly ExpectedAtTension[] | undefined;
  expectedSpare(wheel: Wheel, spare: SpareSpoke, how: How): readonly ExpectedAtTension[] | undefined;
  crossCalibrate(wheel: Wheel, round: Round, second: ReadonlyMap<number, SecondReading>): CrossCalibration;
  sheetTones(wheel: Wheel, sheet: Sheet, unit: TensionUnit | undefined): SheetTones;
}

export function createMeasurer(): Measurer {
  const prepared = new Map<string, PreparedMember>();
  const prepare = (described: DescribedMember): PreparedMember => {
    const key = keyOf(described);
    const known = prepared.get(key);
    if (known) return known;
    const made = prepareMember(described);
    const [oldest] = prepared.keys();
    if (prepared.size >= MOST_PREPARED && oldest !== undefined) prepared.delete(oldest);
    prepared.set(key, made);
    return made;
  };
  return {
    round: (wheel, round) => {
      const { readings, learned, calibrations } = readRound(wheel, round, prepare);
      return {
        readings: Object.fromEntries(readings),
        learned: Object.fromEntries(learned),
        calibrations: Object.fromEntries(calibrations ?? []),
      };
    },
    expected: (wheel, spoke, how) => {
      const described = describeMember(wheel, spoke);
      return described.ok ? expectedTones(prepare(described.described), how) : undefined;
    },
    expectedSpare: (wheel, spare, how) => {
      const described = describeSpare(wheel, sideOfKind(wheel, spare.kindId), spare);
      return described.ok ? expectedTones(prepare(described.described), how) : undefined;
    },
    crossCalibrate: (wheel, round, second) => {
      const laid = expandLayout(wheel.layout);
      const sides = laid.ok ? laid.spokes.map((spoke) => spoke.side) : [];
      return crossCalibrate(wheel, round, second, sides, prepare);
    },
    sheetTones: (wheel, sheet, unit) => sheetTones(sheet, wheel, prepare, unit),
  };
}

/** Spokes of one side differ in the last digits of their computed lengths; to nine digits they are one member. */
const keyOf = (described: DescribedMember): string =>
  JSON.stringify(described, (_, value) => (typeof value === 'number' ? value.toPrecision(9) : value));
