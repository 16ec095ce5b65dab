import { expandLayout } from '../../spokes/expandLayout.ts';
import { allSettlings } from '../../spokes/walkRound.ts';
import type { Layout, Round, Side, Wheel } from '../../spokes/wheel.ts';
import { localDay } from '../text/localTime.ts';

/** The wheel in half a line: how many spokes, how they are laced. */
export function layoutGist(layout: Layout): string {
  switch (layout.kind) {
    case 'evenness':
      return `${layout.sides.length} spokes, evenness only`;
    case 'list':
      return `${layout.spokes.length} spokes, listed one by one`;
    case 'laced': {
      const { left, right, pattern } = layout.lacing;
      const crosses =
        left.crosses === right.crosses
          ? crossWord(left.crosses)
          : `left ${crossWord(left.crosses)}, right ${crossWord(right.crosses)}`;
      const how = pattern === 'twoToOne' ? ', two to one' : pattern === 'paired' ? ', paired' : '';
      return `${layout.spokeCount} spokes, ${crosses}${how}`;
    }
  }
}

const crossWord = (crosses: number): string => (crosses === 0 ? 'radial' : `${crosses}-cross`);

/** What was heard last, and on which day. */
export function roundsGist(wheel: Wheel): { readonly heard: string; readonly day?: string } {
  const last = wheel.rounds.at(-1);
  if (last === undefined) return { heard: 'not heard yet' };
  return { heard: heardWords(last, sidesOf(wheel)), day: localDay(last.startedAt) };
}

const sidesOf = (wheel: Wheel): readonly Side[] => {
  const laid = expandLayout(wheel.layout);
  return laid.ok ? laid.spokes.map((spoke) => spoke.side) : [];
};

/** A spoke is heard once it is settled. */
function heardWords(round: Round, sides: readonly Side[]): string {
  if (sides.length === 0) return 'heard, but described so that its spokes cannot be counted';
  const settlings = allSettlings({ round, sides });
  const heard = settlings.filter(({ state }) => state === 'settled').length;
  const begun = settlings.filter(({ state, agreeing }) => state !== 'settled' && agreeing.length > 0).length;
  return [
    ...(round.finishedAt === undefined ? ['round open'] : []),
    `${heard === sides.length ? 'all ' : ''}${heard} ${heard === 1 ? 'spoke' : 'spokes'} heard`,
    ...(begun === 0 ? [] : [`${begun} plucked but not settled`]),
  ].join(', ');
}
