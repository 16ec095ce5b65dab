import type { MeasureReason } from '../../contract.ts';
import type { Advice } from './advice.ts';

/** Why no tension was made from what was heard, and what to do about it. */
export const MEASURE_REASON_TEXT: Readonly<Record<MeasureReason, Advice>> = {
  noTones: {
    sentence: 'No tone was heard that could be this spoke’s.',
    next: 'Pluck it, alone.',
  },
  memberIncomplete: {
    sentence: 'The description lacks a figure that this spoke needs.',
    next: 'Complete the wheel’s description; what was heard is kept.',
  },
  memberImpossible: {
    sentence: 'The description contradicts itself, so no spoke can be made of it.',
    next: 'Correct the figure that is named in the wheel’s description.',
  },
  belowBendingTone: {
    sentence: 'The tone is lower than this spoke would give with no tension at all.',
    next: 'Check length and spoke kind, or pluck again: another spoke may have answered.',
  },
  outOfRange: {
    sentence: 'The tone would mean less than 20 or more than 3000 newtons.',
    next: 'Pluck again; if it stays, check length and spoke kind.',
  },
  tonesContradictMember: {
    sentence: 'The tones do not fit a spoke as it is described.',
    next: 'Check the spoke kind, the crossing and how it was held, then hear it again.',
  },
  numberingAmbiguous: {
    sentence: 'The tones fit more than one tension, and nothing decides between them.',
    next: 'Pluck nearer to the middle, so that the lowest tone is heard as well.',
  },
  pairOnly: {
    sentence: 'Only the common tone of two crossed spokes was heard: it tells their mean, not each of them.',
    next: 'Hold the crossing firmly between finger and thumb and pluck again.',
  },
};
