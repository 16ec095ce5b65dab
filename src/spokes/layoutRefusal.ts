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
  /** What else stands in the way: of the other side, or of further spokes. */
  readonly also?: readonly LayoutRefusal[];
}

/** The first of several, with the others along; undefined where nothing is refused. */
export function refuseTogether(refusals: readonly LayoutRefusal[]): LayoutRefusal | undefined {
  const [first, ...also] = refusals;
  return first === undefined || also.length === 0 ? first : { ...first, also };
}

/** Everything that stands in the way of a layout, one by one. */
export const layoutRefusals = ({ also = [], ...first }: LayoutRefusal): readonly LayoutRefusal[] => [first, ...also];

/** A refusal that names the field and what would be right. */
export const refuseLayout = (reason: LayoutReason, field: string, detail: string): LayoutRefusal => ({
  ok: false,
  reason,
  field,
  detail,
});
