/** Why a layout cannot be laid out. */
export type LayoutReason =
  | 'countNotWhole'
  | 'countOutOfRange' // 4 to 144 spokes
  | 'countOdd' // alternating and paired lacing need an even number
  | 'countNotTwoToOne' // not divisible by three, and the number of the fuller side is not given
  | 'moreCountImpossible'
  | 'sideCountOdd' // a crossed side needs as many leading as trailing spokes
  | 'crossesNotWhole'
  | 'tooManyCrosses' // the spoke would run inside its own pitch circle
  | 'notPositive'
  | 'rimInsideHub'
  | 'pairTooWide'
  | 'headBeyondCrossing'
  | 'partnerUnknown'
  | 'partnerNotMutual'
  | 'crossingOutsideSpoke';

export interface LayoutRefusal {
  readonly ok: false;
  readonly reason: LayoutReason;
  /** The field to blame, as a path into the layout: `lacing.left.crosses`. */
  readonly field: string;
  /** What would be right, or the value that is wrong. */
  readonly detail: string;
}

/** A refusal that names the field and what would be right. */
export const refuseLayout = (reason: LayoutReason, field: string, detail: string): LayoutRefusal => ({
  ok: false,
  reason,
  field,
  detail,
});
