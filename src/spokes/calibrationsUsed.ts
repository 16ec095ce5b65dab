import type { MeasureReason, MeasureRefusal, Reading } from '../contract.ts';
import { describeMember } from './describeMember.ts';
import type { DescribeReason } from './describeRefusal.ts';
import { describeSpare, sideOfKind } from './describeSpare.ts';
import type { RoundReadings } from './readRound.ts';
import type { Calibration, Round, Wheel } from './wheel.ts';

/** Why a known tension taught nothing in a round. */
export type CalibrationReason =
  | MeasureReason
  | DescribeReason
  | 'noPluck' // a loose spoke that was not heard under its load
  | 'spokeNotHeard' // no pluck of it at this tension
  | 'kindNotHeard'; // no spoke of its kind gave a tone in this round

/** What became of one calibration in one round. */
export interface CalibrationUsed {
  readonly calibration: Calibration;
  /** Sides and kinds whose fit took it in. Empty: none. */
  readonly groups: readonly string[];
  /**
   * Taken in: the reading of the known spoke, in the wheel with its load weighed in, loose by its own tones with the load no surer than 15 %
   * (`measureGroup.ts`). Or why not, with the field to blame and what would be right.
   */
  readonly outcome:
    | { readonly ok: true; readonly reading: Reading }
    | { readonly ok: false; readonly reason: CalibrationReason; readonly field?: string; readonly detail?: string };
}

/**
 * What became of each of a wheel's known tensions in a round: taken in, with the reading that came of it, or not, and why.
 *
 * A loose spoke teaches every group of its kind, a spoke in the wheel its own. One that the fit refused is told with the fit's reason; one that
 * never reached it with what was missing.
 *
 * @param read Of this very round.
 */
export function calibrationsUsed(
  wheel: Wheel,
  round: Round,
  read: Pick<RoundReadings, 'readings' | 'calibrations' | 'described'>,
): readonly CalibrationUsed[] {
  return wheel.calibrations.map((calibration): CalibrationUsed => {
    const { kind, spoke, kindId, pluck, roundId } = calibration;
    const ofThisRound = kind === 'inWheel' && !pluck && (roundId === undefined || roundId === round.id);
    const reading: Reading | MeasureRefusal | undefined = ofThisRound
      ? read.readings.get(spoke ?? 0)
      : read.calibrations?.get(calibration.id);
    const no = (reason: CalibrationReason, detail?: string, field?: string): CalibrationUsed => ({
      calibration,
      groups: [],
      outcome: { ok: false, reason, ...(field && { field }), ...(detail && { detail }) },
    });
    if (reading && !reading.ok) return no(reading.reason, reading.detail);
    const laid =
      kind === 'spare'
        ? describeSpare(wheel, sideOfKind(wheel, kindId), calibration)
        : describeMember(wheel, spoke ?? 0);
    const groups = new Set(
      [...read.described.values()]
        .filter((one) =>
          kind === 'spare' ? one.kindId === kindId : laid.ok && 'group' in laid && one.group === laid.group,
        )
        .map(({ group }) => group),
    );
    if (reading) return { calibration, groups: [...groups], outcome: { ok: true, reading } };
    if (!laid.ok) return no(laid.reason, laid.detail, laid.field);
    if (kind === 'spare' && !pluck) return no('noPluck');
    return no(groups.size === 0 ? 'kindNotHeard' : 'spokeNotHeard');
  });
}
