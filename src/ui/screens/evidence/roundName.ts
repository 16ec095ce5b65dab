import type { Round } from '../../../spokes/wheel.ts';
import { localMinute } from '../../text/localTime.ts';

/** When, by whom, in which state. */
export const roundName = (round: Round): string =>
  [localMinute(round.startedAt), round.person, `tyre ${round.state.tyre}`].filter(Boolean).join(', ');
