import type { Metres, Radians } from '../units.ts';
import type { SpokeMark } from './stateMark.ts';

/** One spoke as the wheel drawing needs it. Angles count from the valve hole, clockwise seen from the right. */
export interface SpokePicture {
  /** From 1, the first after the valve hole. */
  readonly number: number;
  readonly side: 'left' | 'right';
  readonly rimAngle: Radians;
  /** Where it leaves the hub, in the wheel's plane. Absent: only the spoke's place at the rim is known. */
  readonly hub?: { readonly angle: Radians; readonly radius: Metres };
  /** Distance of the touching crossing from the hub's support over the whole length, 0..1. */
  readonly crossingShare?: number;
  readonly mark: SpokeMark;
}

/** The wheel seen from the right side. */
export interface WheelPicture {
  /** Radius on which the spokes' rim supports lie. Absent: drawn as a round without dimensions. */
  readonly rimRadius?: Metres;
  readonly leftFlangeRadius?: Metres;
  readonly rightFlangeRadius?: Metres;
  readonly spokes: readonly SpokePicture[];
}
