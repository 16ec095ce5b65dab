import type { Expected, ExpectedAtTension } from '../../src/contract.ts';
import { newtons } from '../../src/units.ts';

/**
 * One rung of a ladder whose tones depart by these relative shifts, each for one standard deviation of something not known.
 * @param shifts each as long as `tones`.
 */
export const rung = (
  tensionN: number,
  tones: readonly Expected[],
  ...shifts: readonly (readonly number[])[]
): ExpectedAtTension => ({
  tensionN: newtons(tensionN),
  tones,
  covariance: tones.map((_, a) =>
    tones.map((_, b) => shifts.reduce((sum, shift) => sum + (shift[a] ?? 0) * (shift[b] ?? 0), 0)),
  ),
});
