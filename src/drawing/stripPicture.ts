import type { SpokeMark } from './stateMark.ts';

/**
 * The round unrolled. Values are in the unit that is shown (newtons, kgf, lbf, or percent of the side's mean): the drawing only places them.
 */
export interface StripPicture {
  readonly unit: string;
  readonly spokes: readonly StripSpoke[];
  readonly left: StripSide;
  readonly right: StripSide;
}
export interface StripSpoke {
  readonly number: number;
  readonly side: 'left' | 'right';
  /** Absent: not measured. */
  readonly value?: number;
  /** Half width of the interval that the verdict used. */
  readonly plusMinus?: number;
  readonly mark: SpokeMark;
}
export interface StripSide {
  readonly mean?: number;
  /** Evenness band about the mean, lower and upper edge. */
  readonly target?: { readonly low: number; readonly high: number };
  readonly minimum?: number;
  readonly maximum?: number;
}
