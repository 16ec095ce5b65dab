import { median } from './median.ts';
import { numberTogether } from './numberTogether.ts';
import { PLUCK_REPEATS_RELATIVE } from './plucksAgree.ts';
import type { Pluck, Side } from './wheel.ts';

/**
 * Of a spoke nobody described, tension goes with a power of frequency between 2.1 (long thin steel) and 3.1 (short, thick or composite):
 * d ln T/d ln f of a stiff member between clamped ends. Uniform in between.
 */
const POWER = { mean: 2.6, u: 1 / Math.sqrt(12) };
/** Beyond the third mode the part at the hub rings too. */
const MOST_MODES = 3;

export interface RelativeTension {
  readonly spoke: number;
  readonly side: Side;
  /** Tension over its side's mean, less one, percent. No absolute figure is implied. */
  readonly deviationPercent: number;
  /** Standard uncertainty. */
  readonly uPercent: number;
}

/**
 * Evenness without a described wheel: each spoke's tension relative to its side's mean, from its tones.
 *
 * Tones are compared mode by mode with the side's median of the same mode, so that a spoke whose fundamental was not heard is
 * compared by its others; the ratio is raised to the power 2.6 ± 0.3.
 *
 * @param used The plucks that settled each spoke.
 * @param sides Side of each place.
 */
export function relativeTensions(
  used: ReadonlyMap<number, readonly Pluck[]>,
  sides: readonly Side[],
): readonly RelativeTension[] {
  const results: RelativeTension[] = [];
  for (const side of ['left', 'right'] as const) {
    const spokes = [...used].flatMap(([spoke, plucks]) => {
      const modes = lnByMode(plucks);
      return sides[spoke - 1] === side && modes.size > 0 ? [{ spoke, modes }] : [];
    });
    const medians = new Map<number, number>();
    for (let mode = 1; mode <= MOST_MODES; mode++) {
      const heard = spokes.flatMap((one) => one.modes.get(mode)?.ln ?? []);
      if (heard.length > 0) medians.set(mode, median(heard));
    }
    const logs = spokes.map(({ spoke, modes }) => {
      let weights = 0;
      let sum = 0;
      for (const [mode, { ln, u }] of modes) {
        const weight = 1 / (u ** 2 + PLUCK_REPEATS_RELATIVE ** 2 / 4);
        weights += weight;
        sum += weight * (ln - (medians.get(mode) ?? ln));
      }
      return { spoke, lnF: sum / weights, u: Math.max(1 / Math.sqrt(weights), PLUCK_REPEATS_RELATIVE / 2) };
    });
    const relative = logs.map((one) => Math.exp(POWER.mean * one.lnF));
    const mean = relative.reduce((sum, value) => sum + value, 0) / relative.length;
    const lnMean = Math.log(mean) / POWER.mean;
    for (const [i, { spoke, lnF, u }] of logs.entries()) {
      const ratio = (relative[i] ?? 0) / mean;
      const uRelative = Math.hypot(POWER.mean * u, POWER.u * (lnF - lnMean));
      results.push({ spoke, side, deviationPercent: 100 * (ratio - 1), uPercent: 100 * ratio * uRelative });
    }
  }
  return results.toSorted((a, b) => a.spoke - b.spoke);
}

/** ln frequency of each mode over a spoke's plucks. */
function lnByMode(plucks: readonly Pluck[]): ReadonlyMap<number, { readonly ln: number; readonly u: number }> {
  const sums = new Map<number, { weights: number; sum: number }>();
  const numbered = numberTogether(plucks);
  for (const [p, pluck] of plucks.entries()) {
    for (const [i, tone] of pluck.tones.entries()) {
      const mode = numbered[p]?.[i] ?? 0;
      if (mode < 1 || mode > MOST_MODES) continue;
      const weight = (tone.frequencyHz / tone.uHz) ** 2;
      const at = sums.get(mode) ?? { weights: 0, sum: 0 };
      sums.set(mode, { weights: at.weights + weight, sum: at.sum + weight * Math.log(tone.frequencyHz) });
    }
  }
  return new Map([...sums].map(([mode, { weights, sum }]) => [mode, { ln: sum / weights, u: 1 / Math.sqrt(weights) }]));
}
