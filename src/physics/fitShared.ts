import { cholesky, solveCholesky } from './cholesky.ts';
import { LINE_SIZE, lineAt } from './lineAt.ts';
import type { MemberUncertainty } from './member.ts';
import type { ToneTable } from './toneTable.ts';

/** One mode of one spoke as heard, several plucks merged. */
export interface FitLine {
  readonly table: ToneTable;
  /** Index in the table, from 0. */
  readonly mode: number;
  readonly lnF: number;
  /** Own standard uncertainty of ln f: the ear's and the model's own part. */
  readonly sigma: number;
  /** Share of a foreign plane's ends: 1 = tied to the main plane's ends through `TIE`. */
  readonly tied: boolean;
}
export interface FitSpoke {
  readonly lines: readonly FitLine[];
  /** First guess, any. */
  readonly lnT: number;
  readonly known?: { readonly lnT: number; readonly sigma: number };
}
export interface FitOptions {
  /** Tables share one grid of ends; this one tells it. */
  readonly grid: ToneTable;
  readonly uncertainty: MemberUncertainty;
  /** ln of the prior weight of each node; absent: equal. */
  readonly lnNodePrior?: Float64Array;
  /** What is already known of the shared errors; absent: the description's uncertainty. */
  readonly massPrior?: { readonly mean: number; readonly sigma: number };
  readonly stiffnessPrior?: { readonly mean: number; readonly sigma: number };
}
export interface FittedSpoke {
  readonly lnT: number;
  /** Variances of ln T: of what is the spoke's own, and of what the group shares. */
  readonly varOwn: number;
  readonly varCommon: number;
  /** Parts of the two by input; `own` are 'frequency', 'hubEnd', 'rimEnd'. */
  readonly ownParts: { frequency: number; hubEnd: number; rimEnd: number };
  readonly commonParts: Record<SharedInput, number>;
  /** ln f heard − modelled, in the order of the lines. */
  readonly residuals: Float64Array;
  /** Share of each line in the answer, summing to 1. */
  readonly gains: Float64Array;
}
export type SharedInput = 'mass' | 'length' | 'crossing' | 'stiffness' | 'hubEnd' | 'rimEnd' | 'model';
export interface SharedFit {
  /** ln of the evidence, with every spoke's ln T flat. */
  readonly lnEvidence: number;
  /** Posterior weight of each node. */
  readonly nodeWeights: Float64Array;
  /** The heaviest node, its solution for the shared errors, and each spoke's ln T there. */
  readonly best: { readonly node: number; readonly errors: Float64Array; readonly lnT: Float64Array };
  /** Its misfit and the degrees of freedom. */
  readonly chi2: number;
  readonly degreesOfFreedom: number;
  readonly spokes: readonly FittedSpoke[];
  /** Posterior of the shared errors: relative mass, relative stiffness, and of ln k of both ends. */
  readonly shared: Record<'mass' | 'stiffness' | 'hubEnd' | 'rimEnd', { mean: number; variance: number }>;
}

// Order of the shared errors: mass, length, crossing, stiffness, support, hub end, rim end, ties of the other plane, then the model by mode.
const MASS = 0;
const STIFFNESS = 3;
const HUB = 5;
const RIM = 6;
const TIE_HUB = 7;
const TIE_RIM = 8;
const MODEL = 9;
const MODEL_MODES = 8;
export const SHARED = MODEL + MODEL_MODES;

/** Scatter of ln k from spoke to spoke, each end. @source own finite-element trial, 15 %; no published value */
const END_SCATTER = 0.15;
/** How far the ends of the two planes may differ, 1 σ of ln k. */
const TIE = 0.4;
/** ln of the crossing's support: a factor of two either way. */
const SUPPORT = 0.7;

/** Error of the model in ln f, growing with the mode (rotary inertia, shear, tapers): the part that all spokes share. */
export const modelSigma = (mode: number): number => 0.0004 + 0.00032 * mode;
/** The same, the part of each spoke. */
export const ownModelSigma = (mode: number): number => 0.0003 + 0.00024 * mode;

const inputOf = (p: number): SharedInput =>
  p === MASS
    ? 'mass'
    : p === 1
      ? 'length'
      : p === 2 || p === 4
        ? 'crossing'
        : p === STIFFNESS
          ? 'stiffness'
          : p === HUB || p === TIE_HUB
            ? 'hubEnd'
            : p === RIM || p === TIE_RIM
              ? 'rimEnd'
              : 'model';

/**
 * Posterior of the tensions of spokes that share their member's errors and their end stiffness.
 *
 * Method: the ends' prior is a grid of Gaussians in ln k; in each the tones are linear in all errors, so that the posterior is exact:
 * each spoke's tension and own scatter are eliminated (3×3), the shared errors are solved with their priors, and the nodes are mixed by
 * evidence. No step can run away, since nothing is iterated but each spoke's own tension.
 * @source Gelman et al., Bayesian Data Analysis (3rd ed., 2013), ch. 5 (hierarchical normal model); JCGM 100:2008 (GUM), 5.2
 */
export const fitShared = (spokes: readonly FitSpoke[], options: FitOptions): SharedFit => {
  const { grid, uncertainty } = options;
  const nodes = grid.hub.lnK.length * grid.rim.lnK.length;
  const priorMean = new Float64Array(SHARED);
  const priorSigma = new Float64Array(SHARED);
  priorSigma[0] = options.massPrior?.sigma ?? uncertainty.massRelative;
  priorMean[0] = options.massPrior?.mean ?? 0;
  priorSigma[1] = uncertainty.length;
  priorSigma[2] = uncertainty.crossing;
  priorSigma[3] = options.stiffnessPrior?.sigma ?? uncertainty.stiffnessRelative;
  priorMean[3] = options.stiffnessPrior?.mean ?? 0;
  priorSigma[4] = SUPPORT;
  priorSigma[HUB] = grid.hub.sigma;
  priorSigma[RIM] = grid.rim.sigma;
  priorSigma[TIE_HUB] = TIE;
  priorSigma[TIE_RIM] = TIE;
  for (let m = 0; m < MODEL_MODES; m++) priorSigma[MODEL + m] = modelSigma(m);
  for (let p = 0; p < SHARED; p++) priorSigma[p] = Math.max(priorSigma[p] as number, 1e-7);

  const starts = spokes.map((s) => s.lnT);
  const solved: (NodeFit | undefined)[] = [];
  let best = Number.NEGATIVE_INFINITY;
  for (let node = 0; node < nodes; node++) {
    const prior = options.lnNodePrior?.[node] ?? -Math.log(nodes);
    if (prior === Number.NEGATIVE_INFINITY) {
      solved.push(undefined);
      continue;
    }
    const fit = fitNode(spokes, node, starts, priorMean, priorSigma);
    fit.lnWeight += prior;
    best = Math.max(best, fit.lnWeight);
    solved.push(fit);
  }
  const nodeWeights = new Float64Array(nodes);
  let sum = 0;
  for (let node = 0; node < nodes; node++) {
    const fit = solved[node];
    const w = fit === undefined ? 0 : Math.exp(fit.lnWeight - best);
    nodeWeights[node] = w;
    sum += w;
  }
  for (let node = 0; node < nodes; node++) nodeWeights[node] = (nodeWeights[node] as number) / sum;
  return mix(spokes, grid, solved, nodeWeights, best + Math.log(sum));
};

/** One node's solution. */
interface NodeFit {
  lnWeight: number;
  chi2: number;
  degreesOfFreedom: number;
  /** Posterior mean and covariance of the shared errors. */
  z: Float64Array;
  covariance: Float64Array;
  lnT: Float64Array;
  /** Own variance of ln T and its part from the tones' own scatter alone. */
  own: Float64Array;
  tones: Float64Array;
  /** −∂ln T/∂z for each spoke, SHARED wide. */
  lever: Float64Array;
  scatter: Float64Array;
  gains: Float64Array[];
}

const read = new Float64Array(LINE_SIZE);

const fitNode = (
  spokes: readonly FitSpoke[],
  node: number,
  starts: number[],
  priorMean: Float64Array,
  priorSigma: Float64Array,
): NodeFit => {
  const P = SHARED;
  const H = new Float64Array(P * P);
  const g = new Float64Array(P);
  let constant = 0;
  let lnDeterminants = 0;
  let observations = 0;
  for (let p = 0; p < P; p++) {
    const w = 1 / (priorSigma[p] as number) ** 2;
    H[p * P + p] = w;
    g[p] = w * (priorMean[p] as number);
    constant += w * (priorMean[p] as number) ** 2;
    lnDeterminants -= Math.log(w);
  }
  const count = spokes.length;
  const lever = new Float64Array(count * P);
  const lnT = new Float64Array(count);
  const own = new Float64Array(count);
  const tones = new Float64Array(count);
  const scatter = new Float64Array(count * 2);
  const gains: Float64Array[] = [];
  for (let i = 0; i < count; i++) {
    const spoke = spokes[i] as FitSpoke;
    const n = spoke.lines.length;
    const J = new Float64Array(n);
    const S = new Float64Array(n * P);
    const at = solveTension(spoke, node, starts[i] as number);
    starts[i] = at;
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
    }
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
      const s = l * P;
      S[s] = -0.5;
      S[s + 1] = read[2] as number;
      S[s + 2] = read[3] as number;
      S[s + 3] = read[4] as number;
      S[s + 4] = read[5] as number;
      S[s + HUB] = hub;
      S[s + RIM] = rim;
      if (line.tied) {
        S[s + TIE_HUB] = hub;
        S[s + TIE_RIM] = rim;
      }
      S[s + MODEL + Math.min(line.mode, MODEL_MODES - 1)] = 1;
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
        const sp = S[s + p] as number;
        if (sp === 0) continue;
        const wsp = w * sp;
        B[p] = (B[p] as number) + wsp * j;
        B[P + p] = (B[P + p] as number) + wsp * hub;
        B[2 * P + p] = (B[2 * P + p] as number) + wsp * rim;
        g[p] = (g[p] as number) + wsp * residual;
        const row = p * P;
        for (let q = 0; q <= p; q++) H[row + q] = (H[row + q] as number) + wsp * (S[s + q] as number);
      }
    }
    A[3] = A[1] as number;
    A[6] = A[2] as number;
    A[7] = A[5] as number;
    const inverse = invert3(A);
    const Ab = [0, 1, 2].map(
      (k) =>
        (inverse[3 * k] as number) * (b[0] as number) +
        (inverse[3 * k + 1] as number) * (b[1] as number) +
        (inverse[3 * k + 2] as number) * (b[2] as number),
    ) as [number, number, number];
    const AB = new Float64Array(3 * P);
    for (let k = 0; k < 3; k++)
      for (let p = 0; p < P; p++)
        AB[k * P + p] =
          (inverse[3 * k] as number) * (B[p] as number) +
          (inverse[3 * k + 1] as number) * (B[P + p] as number) +
          (inverse[3 * k + 2] as number) * (B[2 * P + p] as number);
    for (let p = 0; p < P; p++) {
      const b0 = B[p] as number;
      const b1 = B[P + p] as number;
      const b2 = B[2 * P + p] as number;
      g[p] = (g[p] as number) - b0 * Ab[0] - b1 * Ab[1] - b2 * Ab[2];
      const row = p * P;
      for (let q = 0; q <= p; q++)
        H[row + q] =
          (H[row + q] as number) - b0 * (AB[q] as number) - b1 * (AB[P + q] as number) - b2 * (AB[2 * P + q] as number);
    }
    constant -= (b[0] as number) * Ab[0] + (b[1] as number) * Ab[1] + (b[2] as number) * Ab[2];
    lnDeterminants += lnDeterminant3(A) - 2 * Math.log(1 / END_SCATTER ** 2);
    lever.set(AB.subarray(0, P), i * P);
    lnT[i] = at + Ab[0];
    own[i] = inverse[0] as number;
    tones[i] = 1 / pure;
    scatter[2 * i] = Math.abs(A[1] as number);
    scatter[2 * i + 1] = Math.abs(A[2] as number);
    gains.push(J.map((j, l) => Math.abs(j) / (spoke.lines[l] as FitLine).sigma ** 2));
  }
  const factor = cholesky(H, P);
  const z = solveCholesky(factor, g, P);
  let gz = 0;
  for (let p = 0; p < P; p++) {
    gz += (g[p] as number) * (z[p] as number);
    lnDeterminants += 2 * Math.log(factor[p * P + p] as number);
  }
  for (let i = 0; i < count; i++) {
    let shift = 0;
    for (let p = 0; p < P; p++) shift += (lever[i * P + p] as number) * (z[p] as number);
    lnT[i] = (lnT[i] as number) - shift;
  }
  const chi2 = Math.max(constant - gz, 0);
  return {
    lnWeight: -0.5 * chi2 - 0.5 * lnDeterminants - 0.5 * (observations - count) * Math.log(2 * Math.PI),
    chi2,
    degreesOfFreedom: observations - count,
    z,
    covariance: factor,
    lnT,
    own,
    tones,
    lever,
    scatter,
    gains,
  };
};

/** The spoke's own tension at this node, all errors at zero: two Newton steps on weighted residuals, kept in the table. */
const solveTension = (spoke: FitSpoke, node: number, start: number): number => {
  let lnT = start;
  for (let step = 0; step < 3; step++) {
    let top = 0;
    let bottom = 1e-12;
    for (const line of spoke.lines) {
      lineAt(line.table, node, line.mode, lnT, read);
      const w = 1 / line.sigma ** 2;
      top += w * (read[1] as number) * (line.lnF - (read[0] as number));
      bottom += w * (read[1] as number) ** 2;
    }
    const change = Math.min(Math.max(top / bottom, -0.7), 0.7);
    lnT += change;
    if (Math.abs(change) < 1e-4) break;
  }
  if (spoke.lines.length === 0 && spoke.known !== undefined) return spoke.known.lnT;
  return lnT;
};

const mix = (
  spokes: readonly FitSpoke[],
  grid: ToneTable,
  solved: readonly (NodeFit | undefined)[],
  weights: Float64Array,
  lnEvidence: number,
): SharedFit => {
  const P = SHARED;
  const count = spokes.length;
  const rims = grid.rim.lnK.length;
  let bestNode = 0;
  weights.forEach((w, node) => {
    if (w > (weights[bestNode] as number)) bestNode = node;
  });
  const mean = new Float64Array(count);
  const groupMean = new Float64Array(weights.length);
  const used: number[] = [];
  weights.forEach((w, node) => {
    const fit = solved[node];
    if (fit === undefined || w < 1e-6) return;
    used.push(node);
    let sum = 0;
    for (let i = 0; i < count; i++) {
      sum += fit.lnT[i] as number;
      mean[i] = (mean[i] as number) + w * (fit.lnT[i] as number);
    }
    groupMean[node] = sum / count;
  });
  const total = used.reduce((sum, node) => sum + (weights[node] as number), 0);
  for (let i = 0; i < count; i++) mean[i] = (mean[i] as number) / total;
  const groupTotal =
    used.reduce((sum, node) => sum + (weights[node] as number) * (groupMean[node] as number), 0) / total;

  const commonVar = new Float64Array(count);
  const ownVar = new Float64Array(count);
  const parts = Array.from({ length: count }, () => ({ frequency: 0, hubEnd: 0, rimEnd: 0 }));
  const commonParts = Array.from(
    { length: count },
    (): Record<SharedInput, number> => ({
      mass: 0,
      length: 0,
      crossing: 0,
      stiffness: 0,
      hubEnd: 0,
      rimEnd: 0,
      model: 0,
    }),
  );
  const shared = { mass: moments(), stiffness: moments(), hubEnd: moments(), rimEnd: moments() };
  for (const node of used) {
    const fit = solved[node] as NodeFit;
    const w = (weights[node] as number) / total;
    // Covariance times each lever: solve with the factor.
    const average = new Float64Array(P);
    for (let i = 0; i < count; i++)
      for (let p = 0; p < P; p++) average[p] = (average[p] as number) + (fit.lever[i * P + p] as number) / count;
    for (let i = 0; i < count; i++) {
      const row = fit.lever.subarray(i * P, (i + 1) * P);
      const carried = solveCholesky(fit.covariance, row, P);
      let variance = 0;
      for (let p = 0; p < P; p++) {
        const part = (row[p] as number) * (carried[p] as number);
        variance += part;
        const input = inputOf(p);
        const kept = commonParts[i] as Record<SharedInput, number>;
        kept[input] += w * Math.max(part, 0);
      }
      let differential = 0;
      if (count > 1) {
        const apart = row.map((v, p) => v - (average[p] as number));
        const carriedApart = solveCholesky(fit.covariance, apart, P);
        for (let p = 0; p < P; p++) differential += (apart[p] as number) * (carriedApart[p] as number);
      }
      const between = ((fit.lnT[i] as number) - (mean[i] as number)) ** 2;
      const apart =
        count > 1
          ? ((fit.lnT[i] as number) - (mean[i] as number) - ((groupMean[node] as number) - groupTotal)) ** 2
          : 0;
      const own = fit.own[i] as number;
      ownVar[i] = (ownVar[i] as number) + w * (own + differential + apart);
      commonVar[i] = (commonVar[i] as number) + w * (variance - differential + between - apart);
      const tones = Math.min(fit.tones[i] as number, own);
      const ends = own - tones + differential + apart;
      const hubPart = (fit.scatter[2 * i] as number) ** 2;
      const rimPart = (fit.scatter[2 * i + 1] as number) ** 2 + 1e-30;
      const part = parts[i] as { frequency: number; hubEnd: number; rimEnd: number };
      part.frequency += w * tones;
      part.hubEnd += (w * ends * hubPart) / (hubPart + rimPart);
      part.rimEnd += (w * ends * rimPart) / (hubPart + rimPart);
      const kept = commonParts[i] as Record<SharedInput, number>;
      kept.hubEnd += (w * (between - apart) * hubPart) / (hubPart + rimPart);
      kept.rimEnd += (w * (between - apart) * rimPart) / (hubPart + rimPart);
    }
    const variances = diagonal(fit.covariance, P, [MASS, STIFFNESS, HUB, RIM]);
    const lnHub = grid.hub.lnK[Math.floor(node / rims)] as number;
    const lnRim = grid.rim.lnK[node % rims] as number;
    add(shared.mass, w, fit.z[MASS] as number, variances[0] as number);
    add(shared.stiffness, w, fit.z[STIFFNESS] as number, variances[1] as number);
    add(shared.hubEnd, w, lnHub + (fit.z[HUB] as number), variances[2] as number);
    add(shared.rimEnd, w, lnRim + (fit.z[RIM] as number), variances[3] as number);
  }
  const best = solved[bestNode] as NodeFit;
  return {
    lnEvidence,
    nodeWeights: weights,
    best: { node: bestNode, errors: best.z, lnT: best.lnT },
    chi2: best.chi2,
    degreesOfFreedom: best.degreesOfFreedom,
    spokes: spokes.map((spoke, i) => {
      const part = commonParts[i] as Record<SharedInput, number>;
      const common = Math.max(commonVar[i] as number, 0);
      const sum = Object.values(part).reduce((a, v) => a + Math.max(v, 0), 0) || 1;
      for (const input of Object.keys(part) as SharedInput[]) part[input] = (Math.max(part[input], 0) * common) / sum;
      const gains = best.gains[i] as Float64Array;
      const gainSum = gains.reduce((a, v) => a + v, 0) || 1;
      return {
        lnT: mean[i] as number,
        varOwn: ownVar[i] as number,
        varCommon: common,
        ownParts: parts[i] as { frequency: number; hubEnd: number; rimEnd: number },
        commonParts: part,
        residuals: residualsAt(spoke, best, i, bestNode),
        gains: gains.map((v) => v / gainSum),
      };
    }),
    shared: {
      mass: settled(shared.mass),
      stiffness: settled(shared.stiffness),
      hubEnd: settled(shared.hubEnd),
      rimEnd: settled(shared.rimEnd),
    },
  };
};

/** Residuals at a node's solution, without the model's own errors by mode (those are the misfit that is shown). */
const residualsAt = (spoke: FitSpoke, fit: NodeFit, i: number, node: number): Float64Array =>
  Float64Array.from(
    spoke.lines,
    (line) => line.lnF - modelled(line.table, node, line.mode, fit.lnT[i] as number, fit.z, line.tied),
  );

/** ln f of a mode at a node with the shared errors applied (those of the model by mode left out). */
export const modelled = (
  table: ToneTable,
  node: number,
  mode: number,
  lnT: number,
  errors: Float64Array,
  tied: boolean,
): number => {
  lineAt(table, node, mode, lnT, read);
  let value = (read[0] as number) - 0.5 * (errors[0] as number);
  for (let p = 1; p <= 4; p++) value += (errors[p] as number) * (read[p + 1] as number);
  value += ((errors[HUB] as number) + (tied ? (errors[TIE_HUB] as number) : 0)) * (read[6] as number);
  return value + ((errors[RIM] as number) + (tied ? (errors[TIE_RIM] as number) : 0)) * (read[7] as number);
};

interface Moments {
  first: number;
  second: number;
}
const moments = (): Moments => ({ first: 0, second: 0 });
const add = (to: Moments, weight: number, mean: number, variance: number): void => {
  to.first += weight * mean;
  to.second += weight * (variance + mean * mean);
};
const settled = (m: Moments): { mean: number; variance: number } => ({
  mean: m.first,
  variance: Math.max(m.second - m.first * m.first, 0),
});

const diagonal = (factor: Float64Array, P: number, wanted: readonly number[]): number[] =>
  wanted.map((p) => {
    const unit = new Float64Array(P);
    unit[p] = 1;
    return solveCholesky(factor, unit, P)[p] as number;
  });

const invert3 = (a: Float64Array): Float64Array => {
  const [m0, m1, m2, m3, m4, m5, m6, m7, m8] = a as unknown as number[] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
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
  const at = (i: number): number => a[i] as number;
  return Math.log(
    at(0) * (at(4) * at(8) - at(5) * at(7)) +
      at(1) * (at(5) * at(6) - at(3) * at(8)) +
      at(2) * (at(3) * at(7) - at(4) * at(6)),
  );
};
