import type { MeasureRefusal, Reading } from '../contract.ts';
import type { Newtons } from '../units.ts';
import type { RingingPart } from './sheet.ts';
import type { Side } from './wheel.ts';

/** A spoke of somebody's sheet whose tones were put through the member. */
export interface SheetToneRow {
  readonly side: Side;
  /** From 0, in the side's column. */
  readonly index: number;
  /** As the sheet gives them, ascending. */
  readonly tonesHz: readonly number[];
  /** As the sheet states it, where its unit is known. */
  readonly sheetN?: number;
  readonly member: Reading | MeasureRefusal;
  /** Plain string over the whole spoke, and over the part that rings: 4 μ L² f², f the lowest tone. */
  readonly stringWholeN: Newtons;
  readonly stringFreeN: Newtons;
  /** Spokes of one group share the errors of their description. */
  readonly group: string;
  readonly rings: RingingPart;
}

/** A sheet's row whose tones were turned into a tension, to be held against the stated one. */
export interface ComparedRow extends SheetToneRow {
  readonly sheetN: number;
  readonly member: Extract<SheetToneRow['member'], { ok: true }>;
}
