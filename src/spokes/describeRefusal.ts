import type { LayoutReason } from './layoutRefusal.ts';

/** Why a spoke cannot be described as a member. */
export type DescribeReason =
  | LayoutReason
  | 'evennessOnly' // spoke count and sides alone: no absolute tension
  | 'noSuchSpoke'
  | 'noSides'
  | 'kindUnknown'
  | 'noSections'
  | 'twoRests' // only one section may fill the rest
  | 'sectionsTooLong'
  | 'sectionsTooShort' // and no section that fills the rest
  | 'endInNipple' // the last section of a loose spoke is all hidden
  | 'shapeImpossible'
  | 'materialImpossible'
  | 'massImpossible'
  | 'weighingContradicts'
  | 'nippleImpossible'
  | 'measuredImpossible'
  | 'uncertaintyImpossible'
  | 'endStiffnessImpossible';

export interface DescribeRefusal {
  readonly ok: false;
  readonly reason: DescribeReason;
  /** Path into the wheel: `kinds.x.sections.1.lengthMm`. */
  readonly field: string;
  /** The wrong value, or what would be right. */
  readonly detail: string;
}

/** A refusal that names the field and what would be right. */
export const refuseDescription = (reason: DescribeReason, field: string, detail: string): DescribeRefusal => ({
  ok: false,
  reason,
  field,
  detail,
});
