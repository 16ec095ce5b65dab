import type { EvennessWord } from '../../spokes/evennessVerdict.ts';
import type { LimitWord } from '../../spokes/limitVerdict.ts';

/** A verdict in two or three words, and what it means. */
export interface VerdictText {
  readonly word: string;
  readonly meaning: string;
}

/** Against the maker's limits: the decision rule in words. */
export const LIMIT_WORD_TEXT: Readonly<Record<LimitWord, VerdictText>> = {
  over: { word: 'over the limit', meaning: 'The whole interval lies above the maximum. Slacken this spoke.' },
  probablyOver: {
    word: 'probably over',
    meaning: 'The tension lies above the maximum, but the interval reaches below it.',
  },
  cannotBeCleared: {
    word: 'cannot be cleared',
    meaning:
      'The tension lies within the limits, but the interval reaches beyond, or the limit holds for another state.',
  },
  within: { word: 'within', meaning: 'The whole interval lies inside the limits.' },
  probablyUnder: {
    word: 'probably under',
    meaning: 'The tension lies below the minimum, but the interval reaches above it.',
  },
  under: { word: 'under the limit', meaning: 'The whole interval lies below the minimum.' },
  noLimit: { word: 'no limit given', meaning: 'The maker’s limit was not entered, so none is judged.' },
};

/** Against the mean of its own side. */
export const EVENNESS_WORD_TEXT: Readonly<Record<EvennessWord, VerdictText>> = {
  even: { word: 'even', meaning: 'Within the target around its side’s mean.' },
  tight: { word: 'tight', meaning: 'Above its side’s mean by more than the target.' },
  slack: { word: 'slack', meaning: 'Below its side’s mean by more than the target.' },
  probablyTight: { word: 'probably tight', meaning: 'Above the target, but the interval reaches inside it.' },
  probablySlack: { word: 'probably slack', meaning: 'Below the target, but the interval reaches inside it.' },
  cannotBeCleared: { word: 'perhaps uneven', meaning: 'Inside the target, but the interval reaches beyond it.' },
};
