import { expect } from 'vitest';
import type { WheelSpoke } from '../signals/round.ts';
import type { Verdict } from './readVerdicts.ts';

/** The target that a new wheel has. `common practice` */
const TARGET_PERCENT = 5;

/** How far the true tension lies from the true mean of its side, percent. */
export function trueDeviations(spokes: readonly WheelSpoke[]): readonly number[] {
  return spokes.map(({ side, tensionN }) => {
    const like = spokes.filter((spoke) => spoke.side === side);
    const mean = like.reduce((sum, spoke) => sum + spoke.tensionN, 0) / like.length;
    return 100 * (tensionN / mean - 1);
  });
}

/**
 * Whatever is said for certain is true of the spoke that was plucked, spoke by spoke; what is only probable or left open is not
 * judged here. So a tone that stands in another's place is found out.
 */
export function expectTrueWords(
  verdicts: readonly Verdict[],
  spokes: readonly WheelSpoke[],
  limit?: { readonly maximumN: number },
): void {
  const deviations = trueDeviations(spokes);
  for (const { spoke, words } of verdicts) {
    const said = `spoke ${spoke}: ${words}`;
    const truth = spokes[spoke - 1];
    const off = deviations[spoke - 1] ?? Number.NaN;
    if (/(?<!probably )\btight\b/.test(words)) expect(off, said).toBeGreaterThan(TARGET_PERCENT);
    if (/(?<!probably )\bslack\b/.test(words)) expect(off, said).toBeLessThan(-TARGET_PERCENT);
    if (/\beven(?!ness)\b/.test(words)) expect(Math.abs(off), said).toBeLessThanOrEqual(TARGET_PERCENT);
    if (limit === undefined) continue;
    if (/(?<!probably )over the limit/.test(words)) expect(truth?.tensionN, said).toBeGreaterThan(limit.maximumN);
    if (/^within/.test(words)) expect(truth?.tensionN, said).toBeLessThanOrEqual(limit.maximumN);
  }
}

/** Every true tension lies inside the interval on the screen. */
export function expectIntervals(verdicts: readonly Verdict[], spokes: readonly WheelSpoke[]): void {
  for (const { spoke, tensionN, plusMinusN } of verdicts) {
    const truth = spokes[spoke - 1]?.tensionN ?? Number.NaN;
    expect(Math.abs(tensionN - truth), `spoke ${spoke}: ${tensionN} ± ${plusMinusN}, true ${truth.toFixed(0)} N`)
      // Both figures are shown to the newton.
      .toBeLessThanOrEqual(plusMinusN + 1);
  }
}

/** Of the true tension, percent, lowest and highest. */
export function spread(verdicts: readonly Verdict[], spokes: readonly WheelSpoke[]): string {
  const off = verdicts.map(({ spoke, tensionN }) => 100 * (tensionN / (spokes[spoke - 1]?.tensionN ?? 0) - 1));
  return `${Math.min(...off).toFixed(1)} to ${Math.max(...off).toFixed(1)} % of the signal’s tension`;
}
