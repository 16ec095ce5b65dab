import type { Round } from '../../../spokes/wheel.ts';

/** When, by whom, in which state. */
export const roundName = (round: Round): string =>
  [round.startedAt.slice(0, 16).replace('T', ' '), round.person, `tyre ${round.state.tyre}`].filter(Boolean).join(', ');
