import type { TensionUnit } from '../../units.ts';
import type { SpokeView } from '../screens/judge/judgementOf.ts';
import type { LiveRound } from '../store/appState.ts';
import { pluckReminder } from './howText.ts';

const SPOKEN_UNIT: Readonly<Record<TensionUnit | '%', string>> = {
  N: 'newtons',
  kgf: 'kilograms-force',
  lbf: 'pounds-force',
  '%': 'percent',
};

/** Parts of a verdict that call for nothing: the ear is deaf while they are said. */
const UNSAID: ReadonlySet<string> = new Set(['within', 'even', 'evenness undecided', 'heard; no limit given']);

/** Where the next spoke is plucked another way than this one: how. */
const changedHow = ({ how, last }: LiveRound): string => {
  if (last?.taken !== true) return '';
  const { crossing, direction } = last.pluck.how;
  return crossing === how.crossing && direction === how.direction ? '' : `: ${pluckReminder(how)}`;
};

/** For those who do not look, once a spoke has settled: all of its figure and verdict, and the next place. */
export function settledSentence(live: LiveRound, view: SpokeView): string {
  const { figure } = view;
  const told =
    figure === undefined
      ? `Spoke ${view.number}: no figure. ${view.whyNot?.sentence ?? ''}`
      : `Spoke ${view.number}: ${figure.value} ${figure.unit}, ± ${figure.plusMinus}, ${view.word}.`;
  const next =
    live.phase === 'finished'
      ? 'The round is complete.'
      : `Next: spoke ${live.spoke}, ${live.side}${changedHow(live)}.`;
  return `${told} ${next}`;
}

/** The same as said aloud: short, a verdict only where it calls for something, units as words. */
export function spokenSentence(live: LiveRound, view: SpokeView): string {
  const { figure } = view;
  const said = view.word.split(', ').filter((part) => !UNSAID.has(part));
  const result =
    figure === undefined
      ? 'no figure'
      : [`${figure.value.replace('−', 'minus ').replace('+', 'plus ')} ${SPOKEN_UNIT[figure.unit]}`, ...said].join(
          ', ',
        );
  const now =
    live.phase === 'finished'
      ? 'The round is complete.'
      : live.phase === 'closing'
        ? `Now spoke ${live.spoke} once more.`
        : `Next is spoke ${live.spoke}, ${live.side}${changedHow(live)}.`;
  return `Spoke ${view.number}: ${result}. ${now}`;
}
