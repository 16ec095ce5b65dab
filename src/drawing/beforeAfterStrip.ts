import { stripDrawing } from './stripDrawing.ts';
import type { StripPicture } from './stripPicture.ts';
import type { SvgNode } from './svg.ts';

/**
 * Two rounds of one wheel on one scale: the earlier as open rings, the later as marks with intervals.
 * @param before @param after the same places in the same unit
 * @throws RangeError if the two do not have the same places: a drawing must not compare spokes of different places
 */
export function beforeAfterStrip(
  before: StripPicture,
  after: StripPicture,
  options: { readonly label: string; readonly width?: number; readonly letterSize?: number },
): SvgNode {
  if (before.spokes.length !== after.spokes.length)
    throw new RangeError(`before has ${before.spokes.length} places, after ${after.spokes.length}; expected the same`);
  return stripDrawing(after, { ...options, before });
}
