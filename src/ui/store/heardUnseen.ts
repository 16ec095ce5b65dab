import type { Desk } from './desk.ts';
import type { Messages } from './messageActions.ts';

/**
 * A dark screen or a page out of sight may go on hearing. Whatever settled meanwhile counts, and is told on return, so that nothing is
 * credited unseen.
 *
 * @returns to be told each time the page goes out of sight and comes back
 */
export function heardUnseen({ get }: Desk, { say }: Messages): (inSight: boolean) => void {
  let left: { readonly roundId: string; readonly settled: readonly number[] } | undefined;
  return (inSight) => {
    const { round, listening } = get();
    if (!inSight) {
      const hears = listening.status === 'on' && listening.source === 'microphone';
      left = hears && round ? { roundId: round.round.id, settled: round.settled } : undefined;
      return;
    }
    const known = left;
    left = undefined;
    if (known === undefined || round?.round.id !== known.roundId) return;
    const since = round.settled.filter((spoke) => !known.settled.includes(spoke));
    if (since.length > 0) say('heardUnseen', since.join(', '));
  };
}
