import type { How } from '../../contract.ts';
import { howPlucked } from '../../spokes/howPlucked.ts';
import type { Round, Side } from '../../spokes/wheel.ts';

const CROSSING: Readonly<Record<How['crossing'], string>> = {
  held: 'crossing held between finger and thumb',
  free: 'crossing left free',
  none: 'no crossing touches',
};
const DIRECTION: Readonly<Record<How['direction'], string>> = {
  inPlane: 'plucked along the rim',
  across: 'plucked across the wheel',
  unknown: 'direction not stated',
};

/** How a spoke was plucked, for a statement of method. */
export const howText = (how: How): string => `${CROSSING[how.crossing]}, ${DIRECTION[how.direction]}`;

/** How a round was plucked, as its plucks record it; side by side where they differ. */
export function howRoundText(round: Round, sides: readonly Side[]): string {
  const plucked = howPlucked(round, sides);
  const left = plucked.left.map(howText).join(', or ');
  const right = plucked.right.map(howText).join(', or ');
  if (left === '' && right === '') return howText(round.how);
  if (left === '' || right === '' || left === right) return left || right;
  return `left: ${left}; right: ${right}`;
}

/** What to do with both hands, in one sentence. */
export function pluckSentence({ crossing, direction }: How): string {
  if (direction === 'across')
    return crossing === 'none'
      ? 'Pluck across the wheel, in the middle of the spoke: pull it towards you and let go.'
      : 'Pluck across the wheel, in the long part: pull it towards you and let go.';
  switch (crossing) {
    case 'held':
      return 'Hold the crossing firmly between finger and thumb; pluck along the rim, in the long part between crossing and rim.';
    case 'free':
      return 'Leave the crossing alone; pluck along the rim, in the long part between crossing and rim.';
    case 'none':
      return 'Pluck along the rim, in the middle of the spoke.';
  }
}

/** The same in a few words, where the hands know it already. */
export const pluckReminder = ({ crossing, direction }: How): string =>
  `${crossing === 'held' ? 'hold the crossing, ' : ''}${direction === 'across' ? 'pull towards you' : 'pluck along the rim'}`;

/** Why across: said where it is asked for. */
export const ACROSS_REASON =
  'A blade bends more easily across the wheel, so its lowest tone tells more of tension there and less of how hub and rim hold it.';
