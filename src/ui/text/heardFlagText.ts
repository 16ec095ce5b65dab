import type { HeardFlag } from '../../contract.ts';

/** What was noticed about a pluck that was taken all the same. */
export const HEARD_FLAG_TEXT: Readonly<Record<HeardFlag, string>> = {
  firstToneInferred: 'The lowest tone was weak; it follows from the others.',
  crossCheckDisagrees: 'A second method finds another lowest tone; hear this spoke once more.',
  lightlyClipped: 'A little too loud; pluck more gently.',
  otherSpokeRinging: 'Another spoke was still ringing; wait for silence.',
  numberingUncertain: 'It is not certain which of its tones was the lowest.',
  humPresent: 'There is a hum in the room.',
  perhapsNoSpoke: 'It may have been something else than a spoke; pluck this spoke once more.',
  shortRing: 'It rang only briefly; keep the hand off the part that rings.',
};
