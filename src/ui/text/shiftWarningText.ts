import type { ShiftWarning } from '../../spokes/shiftCheck.ts';
import type { Advice } from './advice.ts';

/** Why a round's places are doubted, and what to do about it. */
export function shiftWarningText(warning: ShiftWarning): Advice {
  switch (warning.kind) {
    case 'closingDiffers':
      return {
        sentence: `At the end spoke ${warning.spoke} sounded different from the beginning${
          warning.driftPercent === undefined ? '' : `, by ${warning.driftPercent.toFixed(1)} percent in pitch`
        }.`,
        next: 'A place may have been slipped, or the wheel changed. Hear a few spokes in the middle again.',
      };
    case 'closingMissing':
      return {
        sentence: `Spoke ${warning.spoke} was not heard once more, so a slipped place would not show.`,
        next: `Pluck spoke ${warning.spoke} to close the round.`,
      };
    case 'extraBefore':
      return {
        sentence: `A pluck at spoke ${warning.spoke} sounds like the spoke before it.`,
        next: 'Probably one pluck too many there; it was not counted. Hear this spoke again if in doubt.',
      };
    case 'soundsLikeNext':
      return {
        sentence: `A pluck at spoke ${warning.spoke} sounds like the next spoke.`,
        next: 'Perhaps a pluck was missed and the hand went on. Hear both spokes again.',
      };
    case 'twoTones':
      return {
        sentence: `Spoke ${warning.spoke} gave two different tones.`,
        next: 'Hold the crossing firmly and hear it again.',
      };
    case 'sidesTradePlaces':
      return {
        sentence: `From spoke ${warning.from} on, left spokes sound as right ones did and the other way round.`,
        next: `A place was probably slipped there. Hear spoke ${warning.from} again, or move all after it by one place.`,
      };
  }
}
