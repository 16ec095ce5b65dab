import type { OtherState } from '../../../spokes/secondReadings.ts';
import type { StateShiftReason } from '../../../spokes/stateShift.ts';
import type { WheelState } from '../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../units.ts';
import { localMinute } from '../../text/localTime.ts';
import { inUnit, signedInUnit } from './inUnit.ts';
import { stateText } from './report/ReportHead.tsx';

/** Why readings of one state are not brought to another. */
export const STATE_REASON_TEXT: Readonly<Record<StateShiftReason, string>> = {
  notLaced: 'no rim is described that could tell by how much',
  notDescribed: 'the spokes are not described',
  rimClassMissing: 'the rim’s stiffness class is not given, and without it no correction is made',
  rimMaterialUnknown: 'the rim’s material is not known, and without it no correction is made',
  tyreUnknown: 'of one of the two it is not stated whether the tyre was on',
  pressureDiffers: 'the tyre’s pressure differs, or is not stated, and what that does is not known well enough',
  temperatureMissing: 'one temperature is not stated',
};

/** What became of readings that were taken while the wheel stood otherwise than it was heard. */
export function otherStateText(
  { at, state, corrected, reason }: OtherState,
  heard: WheelState,
  unit: TensionUnit,
): string {
  const when = at.slice(0, 10) > '1970' ? `The gauge’s round of ${localMinute(at)}` : 'A round of the gauge';
  const start = `${when} was read in another state (${stateText(state)}) than the wheel was heard in (${stateText(heard)})`;
  if (corrected)
    return `${start}. Its readings are corrected to that state, by ${signedInUnit(corrected.meanShiftN, unit)} ± ${inUnit(2 * corrected.uN, unit)} ${unit} on average; the ± is in theirs.`;
  return `${start}, and ${reason ? STATE_REASON_TEXT[reason] : 'no correction is known'}. Its readings cannot be compared and are left out: read it again in the state of the round, or hear the wheel in that of the gauge.`;
}
