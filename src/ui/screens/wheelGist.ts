import type { Layout, Wheel } from '../../spokes/wheel.ts';
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
  const count = new Set(last.plucks.filter((p) => p.putAside !== true).map((p) => p.spoke)).size;
  const heard = `${last.finishedAt === undefined ? 'round open, ' : ''}${count} ${count === 1 ? 'spoke' : 'spokes'} heard`;
  return { heard, day: localDay(last.startedAt) };
}
