import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';

/**
 * The spoke whose place at the rim lies nearest to a touch on the wheel drawing.
 * @param dx @param dy from the drawing's centre, y downwards, any unit
 * @returns undefined where the touch is so near to the hub, or so far outside, that it means no spoke
 */
export function nearestSpoke(
  spokes: readonly LaidSpoke[],
  dx: number,
  dy: number,
  halfWidth: number,
): number | undefined {
  const share = Math.hypot(dx, dy) / halfWidth;
  if (share < HUB_SHARE || share > OUTER_SHARE) return undefined;
  const angle = Math.atan2(dx, -dy);
  let best: LaidSpoke | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const spoke of spokes) {
    const apart = Math.abs(Math.atan2(Math.sin(spoke.rimAngle - angle), Math.cos(spoke.rimAngle - angle)));
    if (apart < least) {
      least = apart;
      best = spoke;
    }
  }
  return best?.number;
}

/** Inside it a finger covers too many spokes. */
const HUB_SHARE = 0.25;
/** Beyond it lies the paper beside the wheel. */
const OUTER_SHARE = 1.15;
