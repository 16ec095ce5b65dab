import type { WavReason } from '../audio/decodeWav.ts';
import type { HearReason, MeasureReason } from '../contract.ts';
import type { DivideReason } from './divide.ts';

/** Everything that the desk can say no to: files, divisions into spokes, sounds and spokes. */
export type DeskReason =
  | WavReason
  | DivideReason
  | HearReason
  | MeasureReason
  | 'unreadable'
  | 'placesSlipped'
  | 'notHeard'
  | 'fewRang'
  | 'notSettled';

/** What is wrong and what to do about it, at a desk with a recording that is already made. */
const TEXT: Readonly<Record<DeskReason, readonly [what: string, todo: string]>> = {
  unreadable: ['The file cannot be read', 'Check its path and whether it may be read.'],
  notWav: ['This is no WAV file', 'Convert it to WAV, 16 or 24 bits, without changing its sampling rate or level.'],
  noFormat: [
    'The file’s format is not stated, or contradicts itself',
    'Copy it again from the device that recorded it.',
  ],
  noSamples: ['The file holds no sound', 'Copy it again, or record anew: the recorder was stopped too soon.'],
  encodingUnknown: [
    'The sound is coded in a way that is not read here',
    'Convert it to plain WAV: 16, 24 or 32 bits, or 32-bit float. A coded recording (MP3, AAC, A-law) has lost the fine frequencies already.',
  ],
  rateUnsupported: [
    'The sampling rate is not one that tones can be measured at',
    'Record with 44100 or 48000 Hz. Raising the rate afterwards brings nothing back.',
  ],
  channelsUnsupported: ['The file has more channels than are read here', 'Export one or two of them.'],
  tooFewPlucks: [
    'There are fewer plucks than spokes',
    'If only some spokes were plucked, say from which on with --from N, or give a cue list with --cues.',
  ],
  pausesNotClear: [
    'The pauses between spokes are not clearly longer than those between plucks of one spoke',
    'Give the least pause between spokes with --pause SECONDS, or a cue list with --cues. A guess could credit a spoke with another’s tone.',
  ],
  groupsDoNotFit: [
    'The groups of plucks do not come out at the wheel’s spokes',
    'A spoke was left out or plucked twice over: correct --pause or --from, or give a cue list with --cues.',
  ],
  placesSlipped: [
    'Left and right spokes have each other’s tones, so a spoke was passed over or a sound was no pluck',
    'Give a cue list with --cues.',
  ],
  tooSoft: ['Too soft: the tone hardly rises above the room', 'Record nearer to the spoke, or pluck harder.'],
  clipped: ['Too loud: the recording is overdriven', 'Record with less gain, or from farther away.'],
  muffled: ['The spoke was damped before it could ring', 'Let it ring for half a second.'],
  hitTwice: ['A second touch came before the tone was over', 'Leave a second between plucks.'],
  twoSpokes: ['Two spokes rang at once', 'Lay a cloth on the other spokes.'],
  hum: ['A steady hum covers the tone', 'Switch off what hums, and record again.'],
  speech: ['A voice', 'Nothing to do, unless a pluck was meant here.'],
  music: ['Music', 'Record without it.'],
  knock: ['A knock, not a spoke', 'Nothing to do, unless a pluck was meant here: pluck with a fingertip or a nail.'],
  freehub: ['The freehub clicked', 'Hold the wheel still.'],
  rotor: ['The disc rotor rang along', 'Lay a cloth over it, or take it off.'],
  squeak: ['Something squeaked', 'Steady the stand.'],
  firstToneMissing: [
    'The lowest tone is missing, and the others do not tell where it lies',
    'Pluck nearer to the middle of the part that rings.',
  ],
  tonesContradict: [
    'The tones do not belong to one spoke',
    'Hold the crossing firmly, pluck along the rim, and keep the other spokes quiet.',
  ],
  processed: ['The recorder edited the sound', 'Switch off its noise suppression, echo cancellation and gain control.'],
  rateTooLow: ['The recording has telephone sound', 'Record with 44100 Hz or more, not through a headset.'],
  cutShort: ['The recording ends in the middle of the pluck', 'Let the recorder run on for two seconds.'],
  noTones: ['No tone of this spoke was found', 'Pluck it again, alone.'],
  memberIncomplete: [
    'The wheel file lacks a figure that this spoke needs',
    'Add it; docs/wheel-file.md tells what each field holds.',
  ],
  memberImpossible: [
    'The wheel file’s figures contradict each other, so no spoke can be made of them',
    'Correct the one that is named.',
  ],
  belowBendingTone: [
    'The tone is lower than this spoke would give with no tension at all',
    'Check its length and kind in the wheel file, and whether another spoke was plucked.',
  ],
  outOfRange: [
    'The tones would mean less than 20 N or more than 3000 N',
    'Check length and kind in the wheel file, and whether the right spoke was plucked.',
  ],
  tonesContradictMember: [
    'The tones do not fit the spoke as the wheel file describes it',
    'Check kind and crossing, and say with --crossing how it was held.',
  ],
  numberingAmbiguous: [
    'The tones fit more than one tension, and nothing decides between them',
    'Pluck nearer to the middle, so that the lowest tone is there as well.',
  ],
  pairOnly: [
    'Only the common tone of two touching spokes was heard: it tells their mean, not each of them',
    'Hold the crossing and record again.',
  ],
  notSettled: ['Its plucks do not agree, or are fewer than the round wants', 'Pluck it again until as many agree.'],
  notHeard: ['No sound was credited to this spoke', 'Pluck it, or correct the cue list.'],
  fewRang: [
    'Most of the sounds credited to this spoke were no plucks, so the rest are not trusted',
    'Record it again in a quiet room.',
  ],
};

/**
 * A refusal as a person at a desk needs it: what is wrong, the value where one is to blame, and what to do.
 *
 * @param detail In the words of whoever refused.
 */
export function refusalText(reason: DeskReason, detail?: string): string {
  const [what, todo] = TEXT[reason];
  return `${what}${detail ? ` (${detail})` : ''}. ${todo}`;
}

export const isDeskReason = (reason: string): reason is DeskReason => Object.hasOwn(TEXT, reason);
