import type { SpokeMark } from '../../../drawing/stateMark.ts';
import type { EvennessWord } from '../../../spokes/evennessVerdict.ts';
import type { LimitWord } from '../../../spokes/limitVerdict.ts';
import type { Judgement, SpokeView } from './judgementOf.ts';
import { EVENNESS_WORDS, MARK_ORDER, MARK_WORDS } from './verdictWords.ts';

/** What is wrong, by either verdict, most urgent first. */
const BEYOND: readonly (readonly [LimitWord, string])[] = [
  ['over', 'over the limit'],
  ['under', 'under the limit'],
  ['probablyOver', 'probably over the limit'],
  ['probablyUnder', 'probably under the limit'],
];
const UNEVEN: readonly EvennessWord[] = ['tight', 'slack', 'probablyTight', 'probablySlack'];

/** Whether both verdicts on a spoke say that something is wrong: it then has one sign and two words. */
export const isTwiceOff = ({ judged, evenness }: SpokeView): boolean =>
  BEYOND.some(([word]) => word === judged.limit?.word) && UNEVEN.some((word) => word === evenness?.word);

/**
 * The wheel in a sentence or two: what is wrong first; where nothing is, what that rests on. Limit and evenness are counted apart, as the table words
 * them, so that a spoke that is both over and tight is in both counts.
 */
export function headline(judgement: Judgement): string {
  const spokes = [...judgement.spokes.values()];
  const heard = spokes.filter((spoke) => spoke.figure !== undefined);
  if (heard.length === 0) return judgement.status === 'working' ? 'Measuring …' : 'No spoke has a figure yet.';
  const rest = withoutFigure(judgement, spokes, heard.length);
  const found = [beyond(heard), uneven(heard)].filter((sentence) => sentence !== undefined);
  if (found.length > 0) return `${found.join(' ')}${rest}`;
  const unclear = heard.filter((spoke) => spoke.judged.limit?.word === 'cannotBeCleared').length;
  if (unclear > 0) return `Nothing stands out; ${unclear} of ${heard.length} cannot be cleared.${rest}`;
  // Of a wheel that was not heard whole nothing is said of all.
  const who = heard.length === spokes.length ? 'All' : `${heard.length}`;
  const limited = heard.some((spoke) => spoke.mark === 'within');
  const open = heard.filter((spoke) => spoke.evenness?.word !== 'even').length;
  if (open > 0)
    return `${limited ? `${who} within the limits` : 'Nothing stands out'}; whether even is undecided for ${open}.${rest}`;
  return `${who}${limited ? ' within the limits and' : ''} even.${rest}`;
}

/** Who has no figure: for good, or not yet. */
function withoutFigure({ status }: Judgement, spokes: readonly SpokeView[], figures: number): string {
  const coming =
    status === 'working'
      ? spokes.filter(
          ({ figure, whyNot, heard }) => figure === undefined && whyNot === undefined && heard === 'settled',
        ).length
      : 0;
  const missing = spokes.length - figures - coming;
  return [
    missing === 0 ? '' : ` ${missing} of ${spokes.length} without a figure.`,
    coming === 0 ? '' : ` ${coming} of ${spokes.length} still being measured …`,
  ].join('');
}

function beyond(heard: readonly SpokeView[]): string | undefined {
  const counts = BEYOND.flatMap(([word, said]) => {
    const count = heard.filter((spoke) => spoke.judged.limit?.word === word).length;
    return count === 0 ? [] : [`${count} ${said}`];
  });
  return counts.length === 0 ? undefined : `${counts.join(', ')}.`;
}

function uneven(heard: readonly SpokeView[]): string | undefined {
  let all = 0;
  const counts = UNEVEN.flatMap((word) => {
    const count = heard.filter((spoke) => spoke.evenness?.word === word).length;
    all += count;
    return count === 0 ? [] : [`${count} ${EVENNESS_WORDS[word]}`];
  });
  return counts.length === 0 ? undefined : `${counts.join(', ')} against ${all === 1 ? 'its' : 'their'} side.`;
}

/** Spokes by sign, most urgent first; signs that no spoke carries are left out. */
export const byMark = (
  spokes: readonly SpokeView[],
): readonly { readonly mark: SpokeMark; readonly numbers: readonly number[] }[] =>
  MARK_ORDER.flatMap((mark) => {
    const numbers = spokes.filter((spoke) => spoke.mark === mark).map((spoke) => spoke.number);
    return numbers.length === 0 ? [] : [{ mark, numbers }];
  });

/** What a sign says of those that carry it: one sign stands for a limit that could not be cleared and for evenness left undecided. */
export function legendWord(mark: SpokeMark, spokes: readonly SpokeView[]): string {
  const uncleared = spokes.some((spoke) => spoke.mark === mark && spoke.judged.limit?.word === 'cannotBeCleared');
  return mark === 'notCleared' && !uncleared ? EVENNESS_WORDS.cannotBeCleared : MARK_WORDS[mark];
}
