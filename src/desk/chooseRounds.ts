import type { Refusal } from '../contract.ts';
import type { Round, Wheel } from '../spokes/wheel.ts';

export interface ChosenRound {
  /** From 1, in the file's order: the same count as in the names of recordings. */
  readonly number: number;
  readonly round: Round;
}

/**
 * The rounds that a person named: by count from 1, `last`, id, or the beginning of the time it was started at; all without a name.
 */
export function chooseRounds(
  wheel: Wheel,
  name?: string,
): { readonly ok: true; readonly rounds: readonly ChosenRound[] } | Refusal<'noSuchRound'> {
  const all = wheel.rounds.map((round, i) => ({ number: i + 1, round }));
  if (name === undefined) return { ok: true, rounds: all };
  const exact = all.filter(({ round }) => round.id === name);
  const counted = name === 'last' ? all.slice(-1) : all.filter(({ number }) => `${number}` === name);
  const dated = name.length >= 4 ? all.filter(({ round }) => round.startedAt.startsWith(name)) : [];
  const rounds = [exact, counted, dated].find((list) => list.length > 0);
  if (rounds) return { ok: true, rounds };
  const there = all.map(({ number, round }) => `${number} (${round.startedAt || round.id})`).join(', ');
  return { ok: false, reason: 'noSuchRound', detail: there || 'none' };
}
