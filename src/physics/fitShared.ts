import type { FitSpoke } from './fitLine.ts';
import { fitNode, type NodeFit } from './fitNode.ts';
import { mixNodes, NEGLIGIBLE, type SharedFit, type SolvedNode } from './mixNodes.ts';
import { type NodeSums, sumNode } from './nodeSums.ts';
import { activeErrors, END_SCATTER, type SharedPrior } from './sharedErrors.ts';
import { LINEAR, LONGEST_STEP, MOST_PASSES } from './tensionStep.ts';
import type { ToneTable } from './toneTable.ts';

type Scatters = readonly (readonly [scatter: number, prior: number])[];

/**
 * Scatter of the ends' ln k from spoke to spoke as it may be in one wheel or another, with the prior of each. A wheel whose spokes are alike
 * must find its own small scatter here: held to a large one, it would look too good to be true unless its ends hardly mattered, and
 * the fit would take them for hinged.
 */
export const SCATTERS: Scatters = [
  [END_SCATTER, 0.3],
  [0.07, 0.2],
  [0.03, 0.15],
  [0.01, 0.15],
  [0.3, 0.2],
];
/** The ordinary one alone: enough while numberings are still sought. */
export const ORDINARY_SCATTER: Scatters = [[END_SCATTER, 1]];

/**
 * Posterior of the tensions of spokes that share their member's errors and the stiffness of their ends.
 *
 * Method: the prior of the ends is a grid of Gaussians in ln k; at each node the tones are linear in all errors, so that the posterior is
 * exact: each spoke's tension and own scatter are eliminated (3×3), the shared errors are solved with their priors, and the nodes are
 * mixed by evidence, for each scatter of the ends that is tried. Every other node is tried, then the neighbours of those that count. No step can run away, since nothing is
 * iterated but each spoke's own tension.
 * @source Gelman et al., Bayesian Data Analysis (3rd ed., 2013), ch. 5 (hierarchical normal model); JCGM 100:2008 (GUM), 5.2
 */
export const fitShared = (
  spokes: readonly FitSpoke[],
  grid: ToneTable,
  prior: SharedPrior,
  lnNodePrior?: Float64Array,
  scatters: Scatters = ORDINARY_SCATTER,
): SharedFit => {
  const hubs = grid.hub.lnK.length;
  const rims = grid.rim.lnK.length;
  const starts = spokes.map((s) => s.lnT);
  const active = activeErrors(spokes, grid);
  const all: SolvedNode[] = [];
  const summed: (NodeSums | undefined)[] = new Array(hubs * rims).fill(undefined);
  let best = Number.NEGATIVE_INFINITY;
  for (const [scatter, scatterPrior] of scatters) {
    const solved: (NodeFit | undefined)[] = new Array(hubs * rims).fill(undefined);
    const visit = (h: number, r: number): void => {
      const node = h * rims + r;
      if (h < 0 || r < 0 || h >= hubs || r >= rims || solved[node] !== undefined) return;
      let sums = summed[node] ?? sumNode(spokes, node, starts, prior, active);
      let fit = fitNode(sums, prior, scatter, active);
      for (let pass = 0; pass < MOST_PASSES && farthest(fit.lnT, sums.at) > LINEAR; pass++) {
        for (let i = 0; i < starts.length; i++) starts[i] = stepTowards(sums.at[i] as number, fit.lnT[i] as number);
        sums = sumNode(spokes, node, starts, prior, active);
        fit = fitNode(sums, prior, scatter, active);
      }
      summed[node] = sums;
      fit.lnWeight += (grid.lnPrior[node] as number) + (lnNodePrior?.[node] ?? 0) + Math.log(scatterPrior);
      solved[node] = fit;
      all.push({ node, fit });
      best = Math.max(best, fit.lnWeight);
    };
    const seeds = all.filter(({ fit }) => fit.lnWeight > best - NEGLIGIBLE);
    if (seeds.length === 0)
      for (let h = Math.min(1, hubs - 1); h < hubs; h += 2)
        for (let r = Math.min(1, rims - 1); r < rims; r += 2) visit(h, r);
    for (const { node } of seeds) visit(Math.floor(node / rims), node % rims);
    for (let grown = true; grown; ) {
      grown = false;
      for (let h = 0; h < hubs; h++)
        for (let r = 0; r < rims; r++) {
          const fit = solved[h * rims + r];
          if (fit === undefined || fit.spread || fit.lnWeight < best - NEGLIGIBLE) continue;
          fit.spread = true;
          grown = true;
          for (let i = -1; i <= 1; i++) for (let j = -1; j <= 1; j++) visit(h + i, r + j);
        }
    }
  }
  return mixNodes(spokes, grid, all, prior, active);
};

const farthest = (lnT: Float64Array, starts: Float64Array): number => {
  let far = 0;
  for (let i = 0; i < starts.length; i++) far = Math.max(far, Math.abs((lnT[i] as number) - (starts[i] as number)));
  return far;
};
const stepTowards = (from: number, to: number): number =>
  from + Math.min(Math.max(to - from, -LONGEST_STEP), LONGEST_STEP);
