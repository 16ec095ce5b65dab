import type { SpokeMark } from '../../../drawing/stateMark.ts';
import type { EvennessWord } from '../../../spokes/evennessVerdict.ts';
import type { LimitWord } from '../../../spokes/limitVerdict.ts';

/** The limit verdicts in words. */
export const LIMIT_WORDS: Readonly<Record<LimitWord, string>> = {
  over: 'over the limit',
  probablyOver: 'probably over',
  cannotBeCleared: 'cannot be cleared',
  within: 'within',
  probablyUnder: 'probably under',
  under: 'under the limit',
  noLimit: 'no limit given',
};

export const EVENNESS_WORDS: Readonly<Record<EvennessWord, string>> = {
  even: 'even',
  tight: 'tight',
  slack: 'slack',
  probablyTight: 'probably tight',
  probablySlack: 'probably slack',
  cannotBeCleared: 'evenness undecided',
};

/** The one sign of a spoke: what is surest and weighs most comes first. */
export function markOf(limit: LimitWord | undefined, evenness: EvennessWord | undefined): SpokeMark {
  if (limit === 'over' || limit === 'under' || limit === 'probablyOver' || limit === 'probablyUnder') return limit;
  if (evenness === 'tight' || evenness === 'slack' || evenness === 'probablyTight' || evenness === 'probablySlack')
    return evenness;
  if (limit === 'cannotBeCleared') return 'notCleared';
  if (limit === 'within') return 'within';
  if (evenness === 'even') return 'even';
  return evenness === 'cannotBeCleared' ? 'notCleared' : 'settled';
}

/** What a sign says, for legends. */
export const MARK_WORDS: Readonly<Record<SpokeMark, string>> = {
  waiting: 'not heard',
  heardOnce: 'heard, not settled',
  settled: 'heard',
  skipped: 'passed over',
  within: 'within the limit',
  notCleared: 'cannot be cleared',
  over: 'over the limit',
  probablyOver: 'probably over the limit',
  under: 'under the limit',
  probablyUnder: 'probably under the limit',
  even: 'even',
  tight: 'tight against its side',
  probablyTight: 'probably tight',
  slack: 'slack against its side',
  probablySlack: 'probably slack',
};

/** From what is most urgent to what is in order. */
export const MARK_ORDER: readonly SpokeMark[] = [
  'over',
  'under',
  'probablyOver',
  'probablyUnder',
  'tight',
  'slack',
  'probablyTight',
  'probablySlack',
  'notCleared',
  'within',
  'even',
  'settled',
  'heardOnce',
  'skipped',
  'waiting',
];
