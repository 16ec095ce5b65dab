import type { Metres, Radians } from '../units.ts';
import type { Side } from './wheel.ts';

/** A point of the wheel. x to the right and y up, seen from the right with the valve hole on top; z along the axle, to the right. */
export interface Point3 {
  readonly x: Metres;
  readonly y: Metres;
  readonly z: Metres;
}

/** `trailing`: the rim end lies behind the hub end as the wheel rolls forwards (it tightens when driven); `leading`: ahead of it. */
export type Heading = 'leading' | 'trailing' | 'radial';

/** Where another spoke of the same side passes, seen along the axle. */
export interface Crossing {
  /** Along the spoke, from the hub's support. */
  readonly fromHub: Metres;
  /** Number of the other spoke. */
  readonly other: number;
}

/** One spoke in its place. Numbered from 1, the first after the valve hole, clockwise seen from the right. */
export interface LaidSpoke {
  readonly number: number;
  readonly side: Side;
  /** From the valve hole, clockwise seen from the right, 0 ≤ angle < 2π. */
  readonly rimAngle: Radians;
  readonly heading: Heading;
  /** The hub's support: edge of the flange hole, or seat of the head. */
  readonly hubPoint: Point3;
  /** The rim's support: the nipple's seat. */
  readonly rimPoint: Point3;
  /** The two points serve the drawing only; no dimension may be taken from them. */
  readonly schematic: boolean;
  /** From support to support, under tension. Absent where only the sides are known. */
  readonly supportLength?: Metres;
  /** From the hub outwards, the outermost last. */
  readonly crossings: readonly Crossing[];
  /** Touches the other spoke at its outermost crossing. */
  readonly touching: boolean;
  /** The touching crossing, from the hub's support. */
  readonly crossingFromHub?: Metres;
  /** Number of the spoke that it touches. */
  readonly crossingPartner?: number;
  /** Of the spoke against the wheel's plane, towards its flange. */
  readonly bracingAngle?: Radians;
  /** Overrides the side's kind. */
  readonly kindId?: string;
}
