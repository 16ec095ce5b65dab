import type { Round, Side } from './wheel.ts';

/**
 * The places in the order in which a round walks them, from 1.
 *
 * @param sides Side of each place.
 */
export function walkOrder(round: Pick<Round, 'order' | 'firstSpoke'>, sides: readonly Side[]): readonly number[] {
  const first = round.firstSpoke ?? 1;
  const count = sides.length;
  const places = Array.from({ length: count }, (_, i) => ((first - 1 + i) % count) + 1);
  const of = (side: Side) => places.filter((place) => sides[place - 1] === side);
  switch (round.order) {
    case 'byPlace':
    case 'free':
      return places;
    case 'leftThenRight':
      return [...of('left'), ...of('right')];
    case 'rightThenLeft':
      return [...of('right'), ...of('left')];
  }
}
