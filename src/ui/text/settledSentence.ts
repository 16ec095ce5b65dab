import { type TensionUnit, tensionIn } from '../../units.ts';
import type { AppState, LiveRound } from '../store/appState.ts';
import { pluckReminder } from './howText.ts';

const SPOKEN_UNIT: Readonly<Record<TensionUnit, string>> = {
  N: 'newtons',
  kgf: 'kilograms-force',
  lbf: 'pounds-force',
};

/** Where the next spoke is plucked another way than this one: how. */
export const changedHow = ({ how, last }: LiveRound): string => {
  if (last?.taken !== true) return '';
  const { crossing, direction } = last.pluck.how;
  return crossing === how.crossing && direction === how.direction ? '' : `: ${pluckReminder(how)}`;
};

/** What is said aloud, and put into the status line, when a spoke has settled. */
export function settledSentence(state: AppState, spoke: number): string {
  const { round, preferences } = state;
  if (!round) return '';
  const reading = state.measured[round.round.id]?.readings[spoke];
  const unit = preferences.tensionUnit;
  const result =
    reading?.ok === true ? `${Math.round(tensionIn(reading.tensionN, unit))} ${SPOKEN_UNIT[unit]}` : 'settled';
  const now =
    round.phase === 'finished'
      ? 'The round is complete.'
      : round.phase === 'closing'
        ? `Now spoke ${round.spoke} once more.`
        : `Next is spoke ${round.spoke}, ${round.side}${changedHow(round)}.`;
  return `Spoke ${spoke}: ${result}. ${now}`;
}
