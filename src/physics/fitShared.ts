import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import type { FitLine, FitSpoke, FittedSpoke } from './fitLine.ts';
import { LINEAR, LONGEST_STEP, MOST_PASSES } from './fitOne.ts';
import { LINE_SIZE, lineAt } from './lineAt.ts';
import {
  END_SCATTER,
  HUB,
  inputOf,
  MASS,
  MODEL,
  modelErrorOf,
  modelled,
  ORDINARY,
  ordinaryWeight,
  RIM,
  SHARED,
  type SharedInput,
  type SharedPrior,
  STIFFNESS,
  writeSensitivities,
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
  /** Posterior of relative mass, relative stiffness, and ln k of both ends. */
  readonly shared: Readonly<Record<'mass' | 'stiffness' | 'hubEnd' | 'rimEnd', { mean: number; variance: number }>>;
}

export interface EndCloud {
  readonly weight: number;
  readonly hub: { readonly mean: number; readonly variance: number };
  readonly rim: { readonly mean: number; readonly variance: number };
}

/** Nodes further below the best than this, in ln evidence, add nothing. */
const NEGLIGIBLE = 9;

/**
 * Posterior of the tensions of spokes that share their member's errors and the stiffness of their ends.
 *
 * Method: the prior of the ends is a grid of Gaussians in ln k; at each node the tones are linear in all errors, so that the posterior is
 * exact: each spoke's tension and own scatter are eliminated (3×3), the shared errors are solved with their priors, and the nodes are
 * mixed by evidence. Every other node is tried, then the neighbours of those that count. No step can run away, since nothing is
 * iterated but each spoke's own tension.
 * @source Gelman et al., Bayesian Data Analysis (3rd ed., 2013), ch. 5 (hierarchical normal model); JCGM 100:2008 (GUM), 5.2
 */
export const fitShared = (
  spokes: readonly FitSpoke[],
  grid: ToneTable,
  prior: SharedPrior,
  lnNodePrior?: Float64Array,
): SharedFit => {
  const hubs = grid.hub.lnK.length;
  const rims = grid.rim.lnK.length;
  const starts = spokes.map((s) => s.lnT);
  const solved: (NodeFit | undefined)[] = new Array(hubs * rims).fill(undefined);
  let best = Number.NEGATIVE_INFINITY;
  const visit = (h: number, r: number): void => {
    if (h < 0 || r < 0 || h >= hubs || r >= rims || solved[h * rims + r] !== undefined) return;
    let fit = fitNode(spokes, h * rims + r, starts, prior);
    for (let pass = 0; pass < MOST_PASSES && farthest(fit.lnT, starts) > LINEAR; pass++) {
      for (let i = 0; i < starts.length; i++) starts[i] = stepTowards(starts[i] as number, fit.lnT[i] as number);
      fit = fitNode(spokes, h * rims + r, starts, prior);
    }
    fit.lnWeight += lnNodePrior?.[h * rims + r] ?? 0;
    solved[h * rims + r] = fit;
    best = Math.max(best, fit.lnWeight);
  };
  for (let h = Math.min(1, hubs - 1); h < hubs; h += 2)
    for (let r = Math.min(1, rims - 1); r < rims; r += 2) visit(h, r);
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
  const weights = new Float64Array(hubs * rims);
  let sum = 0;
  solved.forEach((fit, node) => {
    if (fit === undefined || fit.lnWeight < best - NEGLIGIBLE) return;
    weights[node] = Math.exp(fit.lnWeight - best);
    sum += weights[node] as number;
  });
  for (let node = 0; node < weights.length; node++) weights[node] = (weights[node] as number) / sum;
  return mix(spokes, grid, solved, weights);
};

const farthest = (lnT: Float64Array, starts: readonly number[]): number => {
  let far = 0;
  for (let i = 0; i < starts.length; i++) far = Math.max(far, Math.abs((lnT[i] as number) - (starts[i] as number)));
  return far;
};
const stepTowards = (from: number, to: number): number =>
  from + Math.min(Math.max(to - from, -LONGEST_STEP), LONGEST_STEP);

/** One node's solution, all tones linear about the `starts`. */
interface NodeFit {
  lnWeight: number;
  /** Its neighbours have been tried. */
  spread: boolean;
  degreesOfFreedom: number;
  /** Posterior mean of the shared errors, and the factor of their information. */
  z: Float64Array;
  factor: Float64Array;
  lnT: Float64Array;
  /** Own variance of ln T, its part from the tones alone, and from a known tension. */
  own: Float64Array;
  tones: Float64Array;
  calibration: Float64Array;
  /** −∂ln T/∂z for each spoke, SHARED wide. */
  lever: Float64Array;
  gains: Float64Array[];
}

const read = new Float64Array(LINE_SIZE);
const row = new Float64Array(SHARED);

const fitNode = (spokes: readonly FitSpoke[], node: number, starts: readonly number[], prior: SharedPrior): NodeFit => {
  const P = SHARED;
  const H = new Float64Array(P * P);
  const g = new Float64Array(P);
  let constant = 0;
  let lnDeterminants = 0;
  let observations = 0;
  for (let p = 0; p < P; p++) {
    const w = 1 / (prior.sigma[p] as number) ** 2;
    H[p * P + p] = w;
    g[p] = w * (prior.mean[p] as number);
    constant += w * (prior.mean[p] as number) ** 2;
    lnDeterminants -= Math.log(w);
  }
  const count = spokes.length;
  const lever = new Float64Array(count * P);
  const lnT = new Float64Array(count);
  const own = new Float64Array(count);
  const tones = new Float64Array(count);
  const calibration = new Float64Array(count);
  const gains: Float64Array[] = [];
  for (let i = 0; i < count; i++) {
    const spoke = spokes[i] as FitSpoke;
    const n = spoke.lines.length;
    const J = new Float64Array(n);
    const at = starts[i] as number;
    // Own block: ln T, and this spoke's departure of both ends.
    const A = new Float64Array(9);
    const b = new Float64Array(3);
    const B = new Float64Array(3 * P);
    A[4] = 1 / END_SCATTER ** 2;
    A[8] = A[4];
    if (spoke.known !== undefined) {
      const w = 1 / spoke.known.sigma ** 2;
      const d = spoke.known.lnT - at;
      A[0] = w;
      b[0] = w * d;
      constant += w * d * d;
      lnDeterminants -= Math.log(w);
      observations++;
      calibration[i] = w;
    }
    const weak = ordinaryWeight(at) / count;
    A[0] = (A[0] as number) + weak;
    b[0] = (b[0] as number) + weak * (ORDINARY.lnT - at);
    constant += weak * (ORDINARY.lnT - at) ** 2;
    let pure = A[0] as number;
    for (let l = 0; l < n; l++) {
      const line = spoke.lines[l] as FitLine;
      lineAt(line.table, node, line.mode, at, read);
      const w = 1 / line.sigma ** 2;
      const residual = line.lnF - (read[0] as number);
      const j = read[1] as number;
      const hub = read[6] as number;
      const rim = read[7] as number;
      J[l] = j;
      row.fill(0, MODEL);
      writeSensitivities(read, line.tied, row, 0);
      row[modelErrorOf(line.mode)] = 1;
      pure += w * j * j;
      A[0] = (A[0] as number) + w * j * j;
      A[1] = (A[1] as number) + w * j * hub;
      A[2] = (A[2] as number) + w * j * rim;
      A[4] = (A[4] as number) + w * hub * hub;
      A[5] = (A[5] as number) + w * hub * rim;
      A[8] = (A[8] as number) + w * rim * rim;
      b[0] = (b[0] as number) + w * j * residual;
      b[1] = (b[1] as number) + w * hub * residual;
      b[2] = (b[2] as number) + w * rim * residual;
      constant += w * residual * residual;
      lnDeterminants -= Math.log(w);
      observations++;
      for (let p = 0; p < P; p++) {
        const sp = row[p] as number;
        if (sp === 0) continue;
        const wsp = w * sp;
        B[p] = (B[p] as number) + wsp * j;
        B[P + p] = (B[P + p] as number) + wsp * hub;
        B[2 * P + p] = (B[2 * P + p] as number) + wsp * rim;
        g[p] = (g[p] as number) + wsp * residual;
        const from = p * P;
        for (let q = 0; q <= p; q++) H[from + q] = (H[from + q] as number) + wsp * (row[q] as number);
      }
    }
    A[3] = A[1] as number;
    A[6] = A[2] as number;
    A[7] = A[5] as number;
    const inverse = invert3(A);
    const b0 = b[0] as number;
    const b1 = b[1] as number;
    const b2 = b[2] as number;
    const shiftT = (inverse[0] as number) * b0 + (inverse[1] as number) * b1 + (inverse[2] as number) * b2;
    const shiftHub = (inverse[3] as number) * b0 + (inverse[4] as number) * b1 + (inverse[5] as number) * b2;
    const shiftRim = (inverse[6] as number) * b0 + (inverse[7] as number) * b1 + (inverse[8] as number) * b2;
    const AB = new Float64Array(3 * P);
    for (let k = 0; k < 3; k++)
      for (let p = 0; p < P; p++)
        AB[k * P + p] =
          (inverse[3 * k] as number) * (B[p] as number) +
          (inverse[3 * k + 1] as number) * (B[P + p] as number) +
          (inverse[3 * k + 2] as number) * (B[2 * P + p] as number);
    for (let p = 0; p < P; p++) {
      const c0 = B[p] as number;
      const c1 = B[P + p] as number;
      const c2 = B[2 * P + p] as number;
      g[p] = (g[p] as number) - c0 * shiftT - c1 * shiftHub - c2 * shiftRim;
      const from = p * P;
      for (let q = 0; q <= p; q++)
        H[from + q] =
          (H[from + q] as number) -
          c0 * (AB[q] as number) -
          c1 * (AB[P + q] as number) -
          c2 * (AB[2 * P + q] as number);
    }
    constant -= b0 * shiftT + b1 * shiftHub + b2 * shiftRim;
    // Tensions of a side are alike: a node where tones hardly depend on tension is not likelier for each spoke's room in ln T, but once.
    lnDeterminants += lnDeterminant3(A) - 2 * Math.log(1 / END_SCATTER ** 2) - (1 - 1 / count) * Math.log(pure);
    lever.set(AB.subarray(0, P), i * P);
    lnT[i] = at + shiftT;
    own[i] = inverse[0] as number;
    tones[i] = 1 / pure;
    gains.push(J.map((j, l) => Math.abs(j) / (spoke.lines[l] as FitLine).sigma ** 2));
  }
  lnDeterminants += choleskyInPlace(H, P);
  const z = Float64Array.from(g);
  solveCholeskyInPlace(H, z, P);
  let gz = 0;
  for (let p = 0; p < P; p++) gz += (g[p] as number) * (z[p] as number);
  for (let i = 0; i < count; i++) {
    let shift = 0;
    for (let p = 0; p < P; p++) shift += (lever[i * P + p] as number) * (z[p] as number);
    lnT[i] = (lnT[i] as number) - shift;
  }
  const chi2 = Math.max(constant - gz, 0);
  return {
    lnWeight: -0.5 * chi2 - 0.5 * lnDeterminants,
    spread: false,
    degreesOfFreedom: observations - count,
    z,
    factor: H,
    lnT,
    own,
    tones,
    calibration,
    lever,
    gains,
  };
};

const mix = (
  spokes: readonly FitSpoke[],
  grid: ToneTable,
  solved: readonly (NodeFit | undefined)[],
  weights: Float64Array,
): SharedFit => {
  const P = SHARED;
  const count = spokes.length;
  const rims = grid.rim.lnK.length;
  const used: { fit: NodeFit; w: number; node: number }[] = [];
  let bestNode = 0;
  solved.forEach((fit, node) => {
    const w = weights[node] as number;
    if (w > (weights[bestNode] as number)) bestNode = node;
    if (fit !== undefined && w > 0) used.push({ fit, w, node });
  });
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
  const commonParts = Array.from({ length: count }, () => new Float64Array(P));
  const ends: EndCloud[] = [];
  const moments = { mass: moment(), stiffness: moment(), hubEnd: moment(), rimEnd: moment() };
  used.forEach(({ fit, w, node }, u) => {
    const covariance = inverse(fit.factor, P);
    const average = new Float64Array(P);
    for (let i = 0; i < count; i++)
      for (let p = 0; p < P; p++) average[p] = (average[p] as number) + (fit.lever[i * P + p] as number) / count;
    for (let i = 0; i < count; i++) {
      const parts = commonParts[i] as Float64Array;
      let variance = 0;
      let differential = 0;
      for (let p = 0; p < P; p++) {
        const lp = fit.lever[i * P + p] as number;
        const dp = lp - (average[p] as number);
        let sum = 0;
        let apart = 0;
        for (let q = 0; q < P; q++) {
          const c = covariance[p * P + q] as number;
          sum += c * (fit.lever[i * P + q] as number);
          apart += c * ((fit.lever[i * P + q] as number) - (average[q] as number));
        }
        variance += lp * sum;
        differential += dp * apart;
        parts[p] = (parts[p] as number) + w * Math.max(lp * sum, 0);
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
      const hub = (fit.lever[i * P + HUB] as number) ** 2;
      const rim = (fit.lever[i * P + RIM] as number) ** 2;
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
    const variance = (p: number): number => covariance[p * P + p] as number;
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
  const best = solved[bestNode] as NodeFit;
  return {
    nodeWeights: weights,
    best: { node: bestNode, errors: best.z, lnT: best.lnT },
    degreesOfFreedom: best.degreesOfFreedom,
    ends,
    spokes: spokes.map((spoke, i): FittedSpoke => {
      const gains = best.gains[i] as Float64Array;
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
  const out = { mass: 0, length: 0, crossing: 0, stiffness: 0, hubEnd: 0, rimEnd: 0, model: 0 };
  const sum = byError.reduce((a, v) => a + v, 0) || 1;
  byError.forEach((v, p) => {
    out[inputOf(p)] += (v * variance) / sum;
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
const add = (to: Moments, weight: number, mean: number, variance: number): void => {
  to.first += weight * mean;
  to.second += weight * (variance + mean * mean);
};
const settled = (m: Moments): { mean: number; variance: number } => ({
  mean: m.first,
  variance: Math.max(m.second - m.first * m.first, 0),
});

type Nine = [number, number, number, number, number, number, number, number, number];
const invert3 = (a: Float64Array): Float64Array => {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = a as unknown as Nine;
  const c0 = m4 * m8 - m5 * m7;
  const c1 = m5 * m6 - m3 * m8;
  const c2 = m3 * m7 - m4 * m6;
  const d = m0 * c0 + m1 * c1 + m2 * c2;
  return Float64Array.of(
    c0 / d,
    (m2 * m7 - m1 * m8) / d,
    (m1 * m5 - m2 * m4) / d,
    c1 / d,
    (m0 * m8 - m2 * m6) / d,
    (m2 * m3 - m0 * m5) / d,
    c2 / d,
    (m1 * m6 - m0 * m7) / d,
    (m0 * m4 - m1 * m3) / d,
  );
};
const lnDeterminant3 = (a: Float64Array): number => {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = a as unknown as Nine;
  return Math.log(m0 * (m4 * m8 - m5 * m7) + m1 * (m5 * m6 - m3 * m8) + m2 * (m3 * m7 - m4 * m6));
};
