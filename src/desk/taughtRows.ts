import type { Learned } from '../physics/spokeTones.ts';
import { type CalibrationReason, calibrationsUsed } from '../spokes/calibrationsUsed.ts';
import type { RoundReadings } from '../spokes/readRound.ts';
import type { Calibration, Round, Wheel } from '../spokes/wheel.ts';
import { calibrationText } from './calibrationText.ts';

/** What the tones of one side and kind taught, known tensions weighed in. */
export interface TaughtGroup extends Learned {
  /** Side and kind. */
  readonly group: string;
  /** Where known tensions and the description differ by more than both allow: what to do. */
  readonly advice?: string;
}
/** One known tension, and what became of it. */
export interface TaughtBy extends Pick<Calibration, 'id' | 'kind' | 'spoke' | 'loadN' | 'uLoadN' | 'method'> {
  readonly ok: boolean;
  /** Sides and kinds that took it in. */
  readonly groups: readonly string[];
  /** Of the known spoke, its load weighed in. */
  readonly tensionN?: number;
  readonly uOwnN?: number;
  readonly uCommonN?: number;
  readonly reason?: CalibrationReason;
  readonly detail?: string;
  readonly advice?: string;
}
export interface TaughtRows {
  readonly groups: readonly TaughtGroup[];
  readonly calibrations: readonly TaughtBy[];
}

const CONTRADICTION =
  'A known tension and the description contradict each other by more than both allow. Check the load, its unit and which spoke it was; then the spoke kind, its mass and the lengths. Until they agree, believe neither.';

/** What a round taught of each side and kind, and what each known tension gave, as plain rows. */
export function taughtRows(wheel: Wheel, round: Round, read: RoundReadings): TaughtRows {
  const groups = [...read.learned].map(
    ([group, learned]): TaughtGroup => ({ group, ...learned, ...(learned.contradiction && { advice: CONTRADICTION }) }),
  );
  const calibrations = calibrationsUsed(wheel, round, read).map(
    ({ calibration, groups: taught, outcome }): TaughtBy => {
      const { id, kind, spoke, loadN, uLoadN, method } = calibration;
      const given = { id, kind, ...(spoke !== undefined && { spoke }), loadN, uLoadN, method, groups: taught };
      if (outcome.ok) {
        const { tensionN, uOwnN, uCommonN } = outcome.reading;
        return { ...given, ok: true, tensionN, uOwnN, uCommonN };
      }
      const { reason, field, detail: why } = outcome;
      const detail = [field, why].filter(Boolean).join(' ');
      return { ...given, ok: false, reason, ...(detail && { detail }), advice: calibrationText(reason, detail) };
    },
  );
  return { groups, calibrations };
}
