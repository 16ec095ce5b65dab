import { millimetres, type Radians, radians } from '../units.ts';
import { type LayoutRefusal, refuseLayout } from './layoutRefusal.ts';
import type { LacedLayout, Side } from './wheel.ts';

/** A spoke hole of the rim. */
export interface RimPlace {
  readonly side: Side;
  readonly angle: Radians;
}

export const FEWEST_SPOKES = 4;
/** No bicycle wheel has more holes than this. `common practice` */
export const MOST_SPOKES = 144;

const other = (side: Side): Side => (side === 'left' ? 'right' : 'left');

/**
 * The rim's holes in order, the first after the valve hole, clockwise seen from the right.
 *
 * The valve hole lies midway between the last and the first spoke. Alternating: one side after the other, evenly spaced. Paired: left
 * and right sit close together, the pairs evenly spaced. Two to one: holes evenly spaced, the emptier side's spokes spread among
 * them as evenly as whole places allow.
 */
export function rimPlaces(
  layout: LacedLayout,
): { readonly ok: true; readonly places: readonly RimPlace[] } | LayoutRefusal {
  const count = layout.spokeCount;
  if (!Number.isInteger(count)) return refuseLayout('countNotWhole', 'spokeCount', `${count}`);
  if (count < FEWEST_SPOKES || count > MOST_SPOKES)
    return refuseLayout('countOutOfRange', 'spokeCount', `${FEWEST_SPOKES}–${MOST_SPOKES}`);
  const { pattern, firstSide } = layout.lacing;
  if (pattern === 'twoToOne') return twoToOnePlaces(layout);
  if (count % 2 !== 0) return refuseLayout('countOdd', 'spokeCount', `${count - 1}, ${count + 1}`);
  const sideOf = (index: number): Side => (index % 2 === 0 ? firstSide : other(firstSide));
  const step = (2 * Math.PI) / count;
  const even = Array.from({ length: count }, (_, i) => ({ side: sideOf(i), angle: radians((i + 0.5) * step) }));
  if (pattern === 'alternating') return { ok: true, places: even };

  const spacing = layout.lacing.pairSpacingMm;
  if (spacing === undefined || !(spacing > 0))
    return refuseLayout('notPositive', 'lacing.pairSpacingMm', `${spacing ?? '–'}`);
  const radius = millimetres(layout.rim.effectiveDiameterMm) / 2;
  const halfPair = Math.asin(Math.min(1, millimetres(spacing) / 2 / radius));
  // Wider than the gap to the next pair, it is not a pair.
  if (halfPair >= step) return refuseLayout('pairTooWide', 'lacing.pairSpacingMm', `${spacing}`);
  const places = even.map((place, i) => {
    const pairCentre = (Math.floor(i / 2) * 2 + 1) * step;
    return { side: place.side, angle: radians(pairCentre + (i % 2 === 0 ? -halfPair : halfPair)) };
  });
  return { ok: true, places };
}

function twoToOnePlaces(
  layout: LacedLayout,
): { readonly ok: true; readonly places: readonly RimPlace[] } | LayoutRefusal {
  const count = layout.spokeCount;
  const { moreSide = 'right', moreCount, firstSide } = layout.lacing;
  if (moreCount === undefined && count % 3 !== 0) {
    const below = count - (count % 3);
    return refuseLayout('countNotTwoToOne', 'spokeCount', `${below}, ${below + 3}`);
  }
  const more = moreCount ?? (2 * count) / 3;
  if (!Number.isInteger(more) || more <= count / 2 || more >= count)
    return refuseLayout('moreCountImpossible', 'lacing.moreCount', `${Math.floor(count / 2) + 1}–${count - 1}`);
  const fewer = count - more;
  const fewerFirst = firstSide !== moreSide;
  const fewerPlaces = new Set(
    Array.from({ length: fewer }, (_, i) => Math.floor(((i + (fewerFirst ? 0 : 0.5)) * count) / fewer)),
  );
  const step = (2 * Math.PI) / count;
  const places = Array.from({ length: count }, (_, i) => ({
    side: fewerPlaces.has(i) ? other(moreSide) : moreSide,
    angle: radians((i + 0.5) * step),
  }));
  return { ok: true, places };
}
