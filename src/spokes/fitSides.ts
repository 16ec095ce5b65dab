import { median } from './median.ts';
import { MOST_APART, type SpokePitch } from './spokePitches.ts';

/** Share of spokes that stand off their side by more than the others scatter, taken: slack, tight, or another kind. */
const OFF_SHARE = 0.05;
/** How likely no way to lay a spoke's tones is right, taken; in the measure of the lays' weights, where chance is 1. */
const NONE_LAID = 0.1;
/** How spokes of a side scatter, ln of frequency, before any is heard: 3 % of tension (`common practice`), and worth so many spokes. */
const USUAL_SCATTER = 0.015;
const USUAL_WORTH = 4;
/** Expectation and maximisation: 0.003 short of 40 steps' logarithm in nine of ten simulated rounds, 3.5 at most. */
const STEPS = 5;

/**
 * How well the pitches of spokes lie in two groups: logarithm of the likelihood at its maximum over the two middles and the scatter about them.
 *
 * A spoke of a group has its pitch normally about the middle, with the groups' common scatter and its own uncertainty, or, one in twenty,
 * anywhere; of the ways to lay its tones each counts by its weight.
 *
 * @param inFirst Which of the spokes are in the first group; the others are in the second. Neither is empty.
 * @source A. P. Dempster, N. M. Laird, D. B. Rubin, J. R. Stat. Soc. B 39 (1977) 1 (the maximum of such a mixture by steps)
 */
export function fitSides(spokes: readonly SpokePitch[], inFirst: readonly boolean[]): number {
  const likeliest = spokes.map(({ lays }) => lays.reduce((best, one) => (one.weight > best.weight ? one : best)).pitch);
  const middleOf = (first: boolean) => median(likeliest.filter((_, i) => inFirst[i] === first));
  let middles: readonly [number, number] = [middleOf(true), middleOf(false)];
  let variance = USUAL_SCATTER ** 2;
  for (let step = 0; step < STEPS; step++) ({ middles, variance } = stepTo(spokes, inFirst, middles, variance));
  return stepTo(spokes, inFirst, middles, variance).lnLikelihood;
}

function stepTo(
  spokes: readonly SpokePitch[],
  inFirst: readonly boolean[],
  middles: readonly [number, number],
  variance: number,
) {
  let lnLikelihood = -0.5 * USUAL_WORTH * (Math.log(variance) + USUAL_SCATTER ** 2 / variance);
  let squares = USUAL_WORTH * USUAL_SCATTER ** 2;
  let count = USUAL_WORTH;
  const sums = [0, 0];
  const weights = [0, 0];
  for (const [i, { lays }] of spokes.entries()) {
    const group = inFirst[i] ? 0 : 1;
    const middle = middles[group];
    let total = NONE_LAID;
    for (const lay of lays) total += lay.weight * (OFF_SHARE / (2 * MOST_APART) + atMiddle(lay, middle, variance));
    lnLikelihood += Math.log(total);
    for (const lay of lays) {
      const share = (lay.weight * atMiddle(lay, middle, variance)) / total;
      const shrunk = variance / (variance + lay.u ** 2);
      sums[group] = (sums[group] ?? 0) + share * shrunk * lay.pitch;
      weights[group] = (weights[group] ?? 0) + share * shrunk;
      // The spoke's own part of its distance, and what is left open of that.
      squares += share * ((shrunk * (lay.pitch - middle)) ** 2 + shrunk * lay.u ** 2);
      count += share;
    }
  }
  const moved = (group: 0 | 1) =>
    (weights[group] ?? 0) > 0 ? (sums[group] ?? 0) / (weights[group] ?? 1) : middles[group];
  return { lnLikelihood, middles: [moved(0), moved(1)] as const, variance: squares / count };
}

/** Density of a lay's pitch in a group, ln of frequency. */
function atMiddle({ pitch, u }: SpokePitch['lays'][number], middle: number, variance: number): number {
  const both = variance + u ** 2;
  return ((1 - OFF_SHARE) * Math.exp((-0.5 * (pitch - middle) ** 2) / both)) / Math.sqrt(2 * Math.PI * both);
}
