import { solveCholeskyInPlace } from './cholesky.ts';
import type { FitSpoke } from './fitLine.ts';
import type { NodeFit } from './fitNode.ts';
import { HUB, MASS, modelled, RIM, SHARED, type SharedPrior, STIFFNESS } from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';

export interface SharedFit {
  /** Weight of each node, summing to 1; nodes that were not needed have 0. */
  readonly nodeWeights: Float64Array;
  /** The heaviest node, the shared errors there, and each spoke's ln T there. */
  readonly best: { readonly node: number; readonly errors: Float64Array; readonly lnT: Float64Array };
  readonly degreesOfFreedom: number;
  readonly spokes: readonly MixedSpoke[];
  /** The posterior of ln k of both ends as a cloud of Gaussians. */
  readonly ends: readonly EndCloud[];
  /** The heavier nodes with the posterior of the shared errors at each: what the group says to a further spoke. */
  readonly taught: readonly TaughtNode[];
  /** Posterior of relative mass, relative stiffness, and ln k of both ends. */
  readonly shared: Readonly<Record<'mass' | 'stiffness' | 'hubEnd' | 'rimEnd', { mean: number; variance: number }>>;
  /** What it is mixed of, for whoever asks how sure it is. */
  readonly mixture: Mixture;
}

export interface MixedSpoke {
  readonly lnT: number;
  /** ln f heard − modelled at the heaviest node, in the order of the lines. */
  readonly residuals: Float64Array;
}

/** The nodes that count, and which of the shared errors move any tone. */
export interface Mixture {
  readonly nodes: readonly WeighedNode[];
  readonly active: readonly number[];
}
export interface WeighedNode extends SolvedNode {
  readonly weight: number;
  /** Posterior of the active errors, P × P. */
  readonly covariance: Float64Array;
}

/** Shared errors as a normal distribution about one node of the ends; `covariance` is SHARED × SHARED. */
export interface TaughtNode {
  readonly node: number;
  readonly weight: number;
  readonly errors: Float64Array;
  readonly covariance: Float64Array;
}

export interface EndCloud {
  readonly weight: number;
  readonly hub: { readonly mean: number; readonly variance: number };
  readonly rim: { readonly mean: number; readonly variance: number };
}

/** A node of the grid of ends with its solution (several, where several scatters of the ends are tried). */
export interface SolvedNode {
  readonly node: number;
  readonly fit: NodeFit;
}

/** Nodes further below the best than this, in ln evidence, add nothing. */
export const NEGLIGIBLE = 7;
/** Nodes lighter than this part of the heaviest teach nothing. */
const TAUGHT = 0.03;

/** Mixes solved nodes by their ln weights: tensions, ends, and what the group teaches. How sure a tension is, `shareVariance` says. */
export const mixNodes = (
  spokes: readonly FitSpoke[],
  grid: ToneTable,
  solved: readonly SolvedNode[],
  prior: SharedPrior,
  active: readonly number[],
): SharedFit => {
  const nodes = weighNodes(solved, active.length);
  const heaviest = nodes.reduce((a, b) => (b.weight > a.weight ? b : a), nodes[0] as WeighedNode);
  const best = { node: heaviest.node, errors: heaviest.fit.z, lnT: heaviest.fit.lnT };
  const nodeWeights = new Float64Array(grid.hub.lnK.length * grid.rim.lnK.length);
  const lnT = new Float64Array(spokes.length);
  for (const { node, weight, fit } of nodes) {
    nodeWeights[node] = (nodeWeights[node] as number) + weight;
    for (let i = 0; i < lnT.length; i++) lnT[i] = (lnT[i] as number) + weight * (fit.lnT[i] as number);
  }
  return {
    nodeWeights,
    best,
    degreesOfFreedom: heaviest.fit.degreesOfFreedom,
    spokes: spokes.map(({ lines }, i) => ({
      lnT: lnT[i] as number,
      residuals: Float64Array.from(
        lines,
        (line) => line.lnF - modelled(line.table, best.node, line.mode, best.lnT[i] as number, best.errors, line.tied),
      ),
    })),
    taught: nodes
      .filter(({ weight }) => weight > TAUGHT * heaviest.weight)
      .map(({ node, weight, fit, covariance }) => ({
        node,
        weight,
        errors: fit.z,
        covariance: widened(covariance, prior, active),
      })),
    ...sharedOf(nodes, grid, active),
    mixture: { nodes, active },
  };
};

/** The nodes that count, their weights summing to 1. */
const weighNodes = (solved: readonly SolvedNode[], P: number): WeighedNode[] => {
  const top = solved.reduce((most, { fit }) => Math.max(most, fit.lnWeight), Number.NEGATIVE_INFINITY);
  const kept = solved.filter(({ fit }) => fit.lnWeight > top - NEGLIGIBLE);
  const total = kept.reduce((sum, { fit }) => sum + Math.exp(fit.lnWeight - top), 0);
  return kept.map(({ node, fit }) => ({
    node,
    fit,
    weight: Math.exp(fit.lnWeight - top) / total,
    covariance: inverse(fit.factor, P),
  }));
};

/** What the nodes say of the ends, the mass and the stiffness. */
const sharedOf = (
  nodes: readonly WeighedNode[],
  grid: ToneTable,
  active: readonly number[],
): Pick<SharedFit, 'ends' | 'shared'> => {
  const rims = grid.rim.lnK.length;
  const moments = { mass: moment(), stiffness: moment(), hubEnd: moment(), rimEnd: moment() };
  const ends = nodes.map(({ node, weight, fit, covariance }): EndCloud => {
    const posterior = (error: number, about = 0): { mean: number; variance: number } => ({
      mean: about + (fit.z[error] as number),
      variance: covariance[active.indexOf(error) * (active.length + 1)] as number,
    });
    const hub = posterior(HUB, grid.hub.lnK[Math.floor(node / rims)]);
    const rim = posterior(RIM, grid.rim.lnK[node % rims]);
    add(moments.mass, weight, posterior(MASS));
    add(moments.stiffness, weight, posterior(STIFFNESS));
    add(moments.hubEnd, weight, hub);
    add(moments.rimEnd, weight, rim);
    return { weight, hub, rim };
  });
  return {
    ends,
    shared: {
      mass: settled(moments.mass),
      stiffness: settled(moments.stiffness),
      hubEnd: settled(moments.hubEnd),
      rimEnd: settled(moments.rimEnd),
    },
  };
};

/** The covariance of the active errors among all: the others are as unsure as before. */
const widened = (covariance: Float64Array, { sigma }: SharedPrior, active: readonly number[]): Float64Array => {
  const out = new Float64Array(SHARED * SHARED);
  for (let p = 0; p < SHARED; p++) out[p * SHARED + p] = (sigma[p] as number) ** 2;
  active.forEach((p, i) => {
    active.forEach((q, j) => {
      out[p * SHARED + q] = covariance[i * active.length + j] as number;
    });
  });
  return out;
};

/** (L·Lᵀ)⁻¹ */
const inverse = (factor: Float64Array, P: number): Float64Array => {
  const out = new Float64Array(P * P);
  const unit = new Float64Array(P);
  for (let p = 0; p < P; p++) {
    unit.fill(0);
    unit[p] = 1;
    solveCholeskyInPlace(factor, unit, P);
    out.set(unit, p * P);
  }
  return out;
};

interface Moments {
  first: number;
  second: number;
}
const moment = (): Moments => ({ first: 0, second: 0 });
const add = (to: Moments, weight: number, { mean, variance }: { mean: number; variance: number }): void => {
  to.first += weight * mean;
  to.second += weight * (variance + mean * mean);
};
const settled = (m: Moments): { mean: number; variance: number } => ({
  mean: m.first,
  variance: Math.max(m.second - m.first * m.first, 0),
});
