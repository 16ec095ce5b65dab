import type { EvennessWord } from '../../../spokes/evennessVerdict.ts';
import type { LimitWord } from '../../../spokes/limitVerdict.ts';
import type { Judgement, SpokeView } from './judgementOf.ts';

/** What was found, and what to do about it; no turns are counted. */
export interface TurnAdvice {
  readonly what: string;
  readonly todo: string;
}

const LIMITS: readonly (readonly [word: LimitWord, found: string, todo: string])[] = [
  ['over', 'Over the limit', 'Slacken before anything else.'],
  ['probablyOver', 'Probably over the limit', 'Slacken, or narrow the ± first.'],
  ['under', 'Under the limit', 'Tighten, and watch the maximum.'],
  ['probablyUnder', 'Probably under the limit', 'Tighten, or narrow the ± first.'],
];

/** Spokes whose nipples are to be turned, most urgent first: by the limit, then by their side. A spoke stands where it weighs most. */
export function turnAdvice(judgement: Judgement): readonly TurnAdvice[] {
  const spokes = [...judgement.spokes.values()].filter((spoke) => spoke.figure !== undefined);
  const told = new Set<SpokeView>();
  const byLimit = LIMITS.flatMap(([word, found, todo]) => {
    const those = spokes.filter((spoke) => spoke.judged.limit?.word === word);
    for (const spoke of those) told.add(spoke);
    return those.length === 0 ? [] : [{ what: `${found}: ${numbers(those)}.`, todo }];
  });
  const off = (word: EvennessWord) => spokes.filter((spoke) => spoke.evenness?.word === word && !told.has(spoke));
  const [tight, slack] = [off('tight'), off('slack')];
  if (tight.length + slack.length === 0) return byLimit;
  const parts = [
    tight.length === 0 ? '' : `tight: ${numbers(tight)}`,
    slack.length === 0 ? '' : `slack: ${numbers(slack)}`,
  ].filter((part) => part !== '');
  const what = `Off their side, ${parts.join('; ')}.`;
  return [...byLimit, { what, todo: 'Turn a little at a time: each nipple moves its neighbours too.' }];
}

const numbers = (spokes: readonly SpokeView[]): string => spokes.map((spoke) => spoke.number).join(', ');
