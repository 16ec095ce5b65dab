import type { Metres } from '../units.ts';

/** One spoke laid flat, hub end left. Lengths in metres along the spoke from the hub's support. */
export interface MemberPicture {
  readonly supportLength: Metres;
  readonly sections: readonly MemberSection[];
  /** Distance of the touching crossing from the hub's support. */
  readonly crossingFromHub?: Metres;
  /** Visible part of the nipple between wire and rim; absent or 0 for an internal nipple. */
  readonly nippleExposed?: Metres;
  readonly hubEnd: 'elbow' | 'straightPull';
}
export interface MemberSection {
  readonly name: string;
  readonly length: Metres;
  /** Width seen along the axle: across the drawing. */
  readonly width: Metres;
  /** What the section is, in the words of a drawing: `Ø 1.8` or `3.2 × 0.9`. */
  readonly figure: string;
}
