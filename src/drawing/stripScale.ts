import { roundSteps } from './axis.ts';
import type { StripPicture } from './stripPicture.ts';

export interface StripScale {
  readonly low: number;
  readonly high: number;
  readonly steps: readonly number[];
}

/** Beyond the outermost figure, in parts of what lies between: the word of a limit stands there. */
const MARGIN = 0.13;

/**
 * One scale for both sides, so that their heights may be compared: every interval, mean and limit that is near the data fits in.
 * The scale starts at zero only where the data does; a broken line at the axis says so otherwise.
 * @returns undefined where nothing is measured and no limit is known
 */
export function stripScale(...strips: readonly StripPicture[]): StripScale | undefined {
  const values = strips.flatMap((strip) => [
    ...strip.spokes.flatMap((s) =>
      s.value === undefined ? [] : [s.value - (s.plusMinus ?? 0), s.value + (s.plusMinus ?? 0)],
    ),
    ...[strip.left, strip.right].flatMap((side) =>
      [side.mean, side.minimum, side.maximum, side.target?.low, side.target?.high].filter((v) => v !== undefined),
    ),
  ]);
  if (values.length === 0) return undefined;
  const least = Math.min(...values);
  const most = Math.max(...values);
  const margin = Math.max((most - least) * MARGIN, Math.abs(most) * 0.02, 1e-9);
  const low = least >= 0 ? Math.max(0, least - margin) : least - margin;
  const high = most + margin;
  return { low, high, steps: roundSteps(low, high, 3) };
}
