import type { MeasureReason } from '../../../../contract.ts';
import type { CalibrationReason, CalibrationUsed } from '../../../../spokes/calibrationsUsed.ts';
import type { Wheel } from '../../../../spokes/wheel.ts';
import { MEASURE_REASON_TEXT } from '../../../text/measureReasonText.ts';
import { describeReasonText } from '../../describe/describeReasonText.ts';

const MISSING = {
  noPluck: 'It was not heard under its load.',
  spokeNotHeard: 'The spoke was not heard at this tension.',
  kindNotHeard: 'No spoke of its kind was heard in this round.',
} as const;

const isMissing = (reason: CalibrationReason): reason is keyof typeof MISSING => Object.hasOwn(MISSING, reason);
const isMeasured = (reason: CalibrationReason): reason is MeasureReason => Object.hasOwn(MEASURE_REASON_TEXT, reason);

/** What became of a known tension, for a table's last column. */
export function knownText({ outcome, groups }: CalibrationUsed, wheel: Wheel): string {
  if (outcome.ok) return `Weighed in: ${groups.map((group) => groupText(group, wheel)).join('; ')}.`;
  const { reason, detail = '' } = outcome;
  if (isMissing(reason)) return `Not used. ${MISSING[reason]}`;
  if (isMeasured(reason)) return `Not used. ${MEASURE_REASON_TEXT[reason].sentence}${detail ? ` (${detail})` : ''}`;
  return `Not used. ${describeReasonText[reason](detail)}`;
}

/** A side and kind in words: `left, plain 2.0 mm`. */
export function groupText(group: string, wheel: Wheel): string {
  const [side = ''] = group.split(' ', 1);
  const kindId = group.slice(side.length + 1);
  return `${side}, ${wheel.kinds[kindId]?.name ?? kindId}`;
}

/** Which spoke is known, and how it was held. */
export function knownSpokeText({ calibration }: CalibrationUsed, wheel: Wheel): string {
  const { kind, spoke, kindId = '', supportLengthMm, threadEnd } = calibration;
  if (kind === 'inWheel') return `Spoke ${spoke ?? '–'}`;
  const length = supportLengthMm === undefined ? 'length not stated' : `${supportLengthMm} mm`;
  return `Loose: ${wheel.kinds[kindId]?.name ?? kindId}, ${length}, ${threadEnd === 'nipple' ? 'in its nipple' : 'in a clamp'}`;
}
