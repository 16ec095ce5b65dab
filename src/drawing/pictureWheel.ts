import type { LaidSpoke } from '../spokes/laidSpoke.ts';
import { type Metres, metres, radians } from '../units.ts';
import type { SpokeMark } from './stateMark.ts';
import type { SpokePicture, WheelPicture } from './wheelPicture.ts';

const fromAxle = (point: { readonly x: number; readonly y: number }): Metres => metres(Math.hypot(point.x, point.y));

/**
 * The wheel drawing's view of a laid-out wheel.
 * Flange radii are the largest distance of a side's hub points from the axle; nothing is computed that a verdict depends on.
 * @param spokes in the order of the places
 * @param markOf state of each spoke by its number
 */
export function pictureWheel(spokes: readonly LaidSpoke[], markOf: (spoke: number) => SpokeMark): WheelPicture {
  const flange = (side: 'left' | 'right'): Metres | undefined => {
    const radii = spokes.filter((spoke) => spoke.side === side).map((spoke) => fromAxle(spoke.hubPoint));
    return radii.length > 0 ? metres(Math.max(...radii)) : undefined;
  };
  const left = flange('left');
  const right = flange('right');
  const rim = spokes.map((spoke) => fromAxle(spoke.rimPoint));
  return {
    ...(rim.length > 0 ? { rimRadius: metres(Math.max(...rim)) } : {}),
    ...(left === undefined ? {} : { leftFlangeRadius: left }),
    ...(right === undefined ? {} : { rightFlangeRadius: right }),
    spokes: spokes.map((spoke) => pictureSpoke(spoke, markOf(spoke.number))),
  };
}

const pictureSpoke = (spoke: LaidSpoke, mark: SpokeMark): SpokePicture => ({
  number: spoke.number,
  side: spoke.side,
  rimAngle: spoke.rimAngle,
  hub: { angle: radians(Math.atan2(spoke.hubPoint.x, spoke.hubPoint.y)), radius: fromAxle(spoke.hubPoint) },
  ...(spoke.crossingFromHub !== undefined && spoke.supportLength !== undefined
    ? { crossingShare: spoke.crossingFromHub / spoke.supportLength }
    : {}),
  mark,
});
