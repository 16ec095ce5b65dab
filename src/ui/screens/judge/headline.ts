import type { SpokeMark } from '../../../drawing/stateMark.ts';
import type { Judgement, SpokeView } from './judgementOf.ts';
import { MARK_ORDER } from './verdictWords.ts';

const COUNTED: Partial<Record<SpokeMark, string>> = {
  over: 'over the limit',
  under: 'under the limit',
  probablyOver: 'probably over the limit',
  probablyUnder: 'probably under the limit',
  tight: 'tight',
  slack: 'slack',
  probablyTight: 'probably tight',
  probablySlack: 'probably slack',
};

/** The wheel in one sentence: what is wrong first; where nothing is, what that rests on. */
export function headline(judgement: Judgement): string {
  const spokes = [...judgement.spokes.values()];
  const heard = spokes.filter((spoke) => spoke.figure !== undefined);
  if (heard.length === 0) return judgement.status === 'working' ? 'Measuring …' : 'No spoke has a figure yet.';
  const found = MARK_ORDER.flatMap((mark) => {
    const word = COUNTED[mark];
    const count = spokes.filter((spoke) => spoke.mark === mark).length;
    return word !== undefined && count > 0 ? [`${count} ${word}`] : [];
  });
  const missing = spokes.length - heard.length;
  const rest = missing === 0 ? '' : ` ${missing} of ${spokes.length} without a figure.`;
  if (found.length > 0) return `${capital(found.join(', '))}.${rest}`;
  const unclear = heard.filter((spoke) => spoke.mark === 'notCleared').length;
  if (unclear > 0) return `Nothing stands out; ${unclear} of ${heard.length} cannot be cleared.${rest}`;
  const limited = heard.some((spoke) => spoke.mark === 'within');
  const open = heard.filter((spoke) => spoke.evenness?.word !== 'even').length;
  if (open > 0)
    return `${limited ? 'All within the limits' : 'Nothing stands out'}; whether even is undecided for ${open}.${rest}`;
  return `${limited ? 'All within the limits and even.' : 'All even.'}${rest}`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Spokes by sign, most urgent first; signs that no spoke carries are left out. */
export const byMark = (
  spokes: readonly SpokeView[],
): readonly { readonly mark: SpokeMark; readonly numbers: readonly number[] }[] =>
  MARK_ORDER.flatMap((mark) => {
    const numbers = spokes.filter((spoke) => spoke.mark === mark).map((spoke) => spoke.number);
    return numbers.length === 0 ? [] : [{ mark, numbers }];
  });
