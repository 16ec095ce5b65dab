import { solveCholeskyInPlace } from './cholesky.ts';
import type { FitSpoke, FittedSpoke } from './fitLine.ts';
import type { NodeFit } from './fitNode.ts';
import { LINE, LINE_SIZE, lineAt } from './lineAt.ts';
import {
  HUB,
  inputOf,
  MASS,
  modelled,
  RIM,
  SHARED,
  type SharedInput,
  type SharedPrior,
  STIFFNESS,
} from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';

export interface SharedFit {
  /** Weight of each node, summing to 1; nodes that were not needed have 0. */
  readonly nodeWeights: Float64Array;
  /** The heaviest node, the shared errors there, and each spoke's ln T there. */
  readonly best: { readonly node: number; readonly errors: Float64Array; readonly lnT: Float64Array };
  readonly degreesOfFreedom: number;
  readonly spokes: readonly FittedSpoke[];
  /** The posterior of ln k of both ends as a cloud of Gaussians. */
  readonly ends: readonly EndCloud[];
  /** The heavier nodes with the posterior of the shared errors at each: what the group says to a further spoke. */
  readonly taught: readonly TaughtNode[];
  /** Posterior of relative mass, relative stiffness, and ln k of both ends. */
  readonly shared: Readonly<Record<'mass' | 'stiffness' | 'hubEnd' | 'rimEnd', { mean: number; variance: number }>>;
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

const read = new Float64Array(LINE_SIZE);

/** Mixes solved nodes by their ln weights: means, variances split into own and common, parts by input. */
export const mixNodes = (
  spokes: readonly FitSpoke[],
  grid: ToneTable,
  solved: readonly SolvedNode[],
  prior: SharedPrior,
  active: readonly number[],
): SharedFit => {
  const P = active.length;
  const at = (error: number): number => active.indexOf(error);
  const count = spokes.length;
  const rims = grid.rim.lnK.length;
  const top = solved.reduce((most, { fit }) => Math.max(most, fit.lnWeight), Number.NEGATIVE_INFINITY);
  const kept = solved.filter(({ fit }) => fit.lnWeight > top - NEGLIGIBLE);
  const total = kept.reduce((sum, { fit }) => sum + Math.exp(fit.lnWeight - top), 0);
  const used = kept.map(({ fit, node }) => ({ fit, node, w: Math.exp(fit.lnWeight - top) / total }));
  const weights = new Float64Array(grid.hub.lnK.length * rims);
  for (const { node, w } of used) weights[node] = (weights[node] as number) + w;
  const heaviest = used.reduce((a, b) => (b.w > a.w ? b : a), used[0] as (typeof used)[number]);
  const { fit: best, node: bestNode } = heaviest;
  const mean = new Float64Array(count);
  let groupMean = 0;
  const averages = used.map(({ fit, w }) => {
    let sum = 0;
    for (let i = 0; i < count; i++) {
      sum += fit.lnT[i] as number;
      mean[i] = (mean[i] as number) + w * (fit.lnT[i] as number);
    }
    groupMean += (w * sum) / count;
    return sum / count;
  });
  const varOwn = new Float64Array(count);
  const varCommon = new Float64Array(count);
  const ownParts = Array.from({ length: count }, () => ({ frequency: 0, hubEnd: 0, rimEnd: 0, calibration: 0 }));
  const commonParts = Array.from({ length: count }, () => new Float64Array(SHARED));
  const ends: EndCloud[] = [];
  const taught: TaughtNode[] = [];
  const moments = { mass: moment(), stiffness: moment(), hubEnd: moment(), rimEnd: moment() };
  used.forEach(({ fit, w, node }, u) => {
    const covariance = inverse(fit.factor, P);
    if (w > TAUGHT * heaviest.w)
      taught.push({ node, weight: w, errors: fit.z, covariance: widened(covariance, prior, active) });
    const average = new Float64Array(P);
    for (let i = 0; i < count; i++)
      for (let p = 0; p < P; p++) average[p] = (average[p] as number) + (fit.lever[i * P + p] as number) / count;
    const ofAverage = times(covariance, average, 0, P);
    for (let i = 0; i < count; i++) {
      const parts = commonParts[i] as Float64Array;
      let variance = 0;
      let differential = 0;
      const ofLever = times(covariance, fit.lever, i * P, P);
      for (let p = 0; p < P; p++) {
        const lp = fit.lever[i * P + p] as number;
        const moved = lp * (ofLever[p] as number);
        variance += moved;
        differential += (lp - (average[p] as number)) * ((ofLever[p] as number) - (ofAverage[p] as number));
        const error = active[p] as number;
        parts[error] = (parts[error] as number) + w * Math.max(moved, 0);
      }
      const off = (fit.lnT[i] as number) - (mean[i] as number);
      const between = off * off;
      const offApart = count > 1 ? off - ((averages[u] as number) - groupMean) : 0;
      const apart = offApart * offApart;
      if (count === 1) differential = 0;
      const own = fit.own[i] as number;
      varOwn[i] = (varOwn[i] as number) + w * (own + differential + apart);
      varCommon[i] = (varCommon[i] as number) + w * Math.max(variance - differential + between - apart, 0);
      const ends = Math.max(own - (fit.tones[i] as number), 0) + differential + apart;
      const hub = (fit.lever[i * P + at(HUB)] as number) ** 2;
      const rim = (fit.lever[i * P + at(RIM)] as number) ** 2;
      const hubShare = hub + rim > 0 ? hub / (hub + rim) : 0.5;
      const part = ownParts[i] as { frequency: number; hubEnd: number; rimEnd: number; calibration: number };
      const known = Math.min((fit.calibration[i] as number) * own * own, own);
      part.calibration += w * known;
      part.frequency += w * Math.max(Math.min(fit.tones[i] as number, own) - known, 0);
      part.hubEnd += w * ends * hubShare;
      part.rimEnd += w * ends * (1 - hubShare);
      parts[HUB] = (parts[HUB] as number) + w * Math.max(between - apart, 0) * hubShare;
      parts[RIM] = (parts[RIM] as number) + w * Math.max(between - apart, 0) * (1 - hubShare);
    }
    const lnHub = grid.hub.lnK[Math.floor(node / rims)] as number;
    const lnRim = grid.rim.lnK[node % rims] as number;
    const variance = (error: number): number => covariance[at(error) * (P + 1)] as number;
    add(moments.mass, w, fit.z[MASS] as number, variance(MASS));
    add(moments.stiffness, w, fit.z[STIFFNESS] as number, variance(STIFFNESS));
    add(moments.hubEnd, w, lnHub + (fit.z[HUB] as number), variance(HUB));
    add(moments.rimEnd, w, lnRim + (fit.z[RIM] as number), variance(RIM));
    ends.push({
      weight: w,
      hub: { mean: lnHub + (fit.z[HUB] as number), variance: variance(HUB) },
      rim: { mean: lnRim + (fit.z[RIM] as number), variance: variance(RIM) },
    });
  });
  return {
    nodeWeights: weights,
    best: { node: bestNode, errors: best.z, lnT: best.lnT },
    degreesOfFreedom: best.degreesOfFreedom,
    ends,
    taught,
    spokes: spokes.map((spoke, i): FittedSpoke => {
      const lnT = best.lnT[i] as number;
      const gains = Float64Array.from(spoke.lines, (line) => {
        lineAt(line.table, bestNode, line.mode, lnT, read);
        return Math.abs(read[LINE.slope] as number) / line.sigma ** 2;
      });
      const gainSum = gains.reduce((a, v) => a + v, 0) || 1;
      return {
        lnT: mean[i] as number,
        varOwn: varOwn[i] as number,
        varCommon: varCommon[i] as number,
        ownParts: ownParts[i] as FittedSpoke['ownParts'],
        commonParts: scaledParts(commonParts[i] as Float64Array, varCommon[i] as number),
        residuals: Float64Array.from(
          spoke.lines,
          (line) => line.lnF - modelled(line.table, bestNode, line.mode, best.lnT[i] as number, best.z, line.tied),
        ),
        gains: gains.map((v) => v / gainSum),
      };
    }),
    shared: {
      mass: settled(moments.mass),
      stiffness: settled(moments.stiffness),
      hubEnd: settled(moments.hubEnd),
      rimEnd: settled(moments.rimEnd),
    },
  };
};

/** Parts by input, scaled to add up to the variance: inputs that the wheel has tied together are shared out. */
const scaledParts = (byError: Float64Array, variance: number): Record<SharedInput, number> => {
  const out = { mass: 0, length: 0, crossing: 0, sections: 0, stiffness: 0, second: 0, hubEnd: 0, rimEnd: 0, model: 0 };
  const sum = byError.reduce((a, v) => a + v, 0) || 1;
  byError.forEach((v, p) => {
    out[inputOf(p)] += (v * variance) / sum;
  });
  return out;
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

/** C·x, where x begins at `from`. */
const times = (C: Float64Array, x: Float64Array, from: number, P: number): Float64Array => {
  const out = new Float64Array(P);
  for (let p = 0; p < P; p++) {
    let sum = 0;
    for (let q = 0; q < P; q++) sum += (C[p * P + q] as number) * (x[from + q] as number);
    out[p] = sum;
  }
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
const add = (to: Moments, weight: number, mean: number, variance: number): void => {
  to.first += weight * mean;
  to.second += weight * (variance + mean * mean);
};
const settled = (m: Moments): { mean: number; variance: number } => ({
  mean: m.first,
  variance: Math.max(m.second - m.first * m.first, 0),
});
