import type { HearReason } from '../../contract.ts';
import type { Advice } from './advice.ts';

/** Why a sound was not taken for a pluck, and what to do about it. */
export const HEAR_REASON_TEXT: Readonly<Record<HearReason, Advice>> = {
  tooSoft: {
    sentence: 'Too soft: the tone hardly rises above the room.',
    next: 'Pluck harder, or bring the phone closer to the spoke.',
  },
  clipped: {
    sentence: 'Too loud: the microphone was overdriven.',
    next: 'Pluck more gently, or move the phone a hand’s width away.',
  },
  muffled: {
    sentence: 'Muffled: the spoke was damped before it could ring.',
    next: 'Take the hand off the part that rings, and let it ring for half a second.',
  },
  hitTwice: {
    sentence: 'Hit twice: a second touch came before the tone was over.',
    next: 'Pluck once and let go at once.',
  },
  twoSpokes: {
    sentence: 'Two spokes at once.',
    next: 'Lay a cloth on the other spokes and pluck this one alone.',
  },
  hum: {
    sentence: 'A steady hum covers the tone.',
    next: 'Switch off the lamp, the charger or the machine nearby, and pluck again.',
  },
  speech: {
    sentence: 'That was a voice.',
    next: 'Wait until it is quiet, then pluck again.',
  },
  music: {
    sentence: 'That was music.',
    next: 'Turn the music off while the wheel is heard.',
  },
  knock: {
    sentence: 'That was a knock, not a spoke.',
    next: 'Pluck with a fingertip or a nail in the middle of the part that rings.',
  },
  freehub: {
    sentence: 'The freehub clicked.',
    next: 'Hold the wheel still while it is heard.',
  },
  rotor: {
    sentence: 'The disc rotor rang along.',
    next: 'Lay a cloth over the rotor, or take it off.',
  },
  squeak: {
    sentence: 'Something squeaked.',
    next: 'Steady the stand, then pluck again.',
  },
  firstToneMissing: {
    sentence: 'The lowest tone was not heard, and the others do not tell where it lies.',
    next: 'Pluck nearer to the middle of the part that rings.',
  },
  tonesContradict: {
    sentence: 'The tones do not belong to one spoke.',
    next: 'Hold the crossing firmly, pluck along the rim, and keep the other spokes quiet.',
  },
  processed: {
    sentence: 'The system edits the sound, and the tone is lost in it.',
    next: 'Switch voice features off for this browser, or use another one.',
  },
  rateTooLow: {
    sentence: 'The microphone sends telephone sound.',
    next: 'Switch the wireless headset off and use the phone’s own microphone.',
  },
  cutShort: {
    sentence: 'The sound broke off in the middle of the pluck.',
    next: 'Pluck again.',
  },
};
