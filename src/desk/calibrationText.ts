import type { CalibrationReason } from '../spokes/calibrationsUsed.ts';
import { isDeskReason, refusalText } from './refusalText.ts';

/** Reasons that only a known tension has. */
const OWN: Partial<Record<CalibrationReason, readonly [what: string, todo: string]>> = {
  noPluck: ['It holds no pluck under its load', 'Hear the loose spoke while it is loaded, or remove it.'],
  spokeNotHeard: [
    'Its spoke was not heard at that tension',
    'Name the round that heard it, or hear the spoke again while its tension is known.',
  ],
  kindNotHeard: ['No spoke of its kind gave a tone here', 'Correct its kind, or hear spokes of that kind.'],
  kindUnknown: ['The wheel file does not know its kind', 'Correct its kindId.'],
  noSuchSpoke: ['The wheel has no such spoke', 'Correct its number.'],
};

/** Why a known tension taught nothing, and what to do: a sentence for the desk. */
export function calibrationText(reason: CalibrationReason, detail?: string): string {
  const own = OWN[reason];
  if (own) return `${own[0]}${detail ? ` (${detail})` : ''}. ${own[1]}`;
  // What else a description can lack is named by its field.
  return refusalText(isDeskReason(reason) ? reason : 'memberImpossible', detail);
}
