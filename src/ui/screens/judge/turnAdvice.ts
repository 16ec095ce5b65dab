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

/** Spokes whose nipples are to be turned, most urgent first: by the limit, then by their side. A spoke's turn stands where it weighs most. */
export function turnAdvice(judgement: Judgement): readonly TurnAdvice[] {
  const spokes = [...judgement.spokes.values()].filter((spoke) => spoke.figure !== undefined);
  const told = new Set<SpokeView>();
  const byLimit = LIMITS.flatMap(([word, found, todo]) => {
    const those = spokes.filter((spoke) => spoke.judged.limit?.word === word);
    for (const spoke of those) told.add(spoke);
    return those.length === 0 ? [] : [{ what: `${found}: ${numbers(those)}.`, todo }];
  });
  const parts = (['tight', 'slack'] as const).flatMap((word) => {
    const those = spokes.filter((spoke) => spoke.evenness?.word === word);
    const [above, here] = [those.filter((spoke) => told.has(spoke)), those.filter((spoke) => !told.has(spoke))];
    if (here.length === 0) return [];
    const too = above.length === 0 ? '' : ` (and ${numbers(above)}, above)`;
    return [`${word}: ${numbers(here)}${too}`];
  });
  if (parts.length === 0) return byLimit;
  const what = `Off the mean of their side, ${parts.join('; ')}.`;
  return [...byLimit, { what, todo: 'Turn a little at a time: each nipple moves its neighbours too.' }];
}

const numbers = (spokes: readonly SpokeView[]): string => spokes.map((spoke) => spoke.number).join(', ');
