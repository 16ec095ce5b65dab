import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import { type FitLine, type FitSpoke, type FittedSpoke, tensionAtNode } from './fitLine.ts';
import { LINE_SIZE, lineAt } from './lineAt.ts';
import {
  END_SCATTER,
  HUB,
  inputOf,
  modelled,
  RIM,
  SHARED,
  type SharedInput,
  type SharedPrior,
  WEAK_TENSION,
  writeSensitivities,
} from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';

/** The posterior of one spoke's tension under one numbering. */
export interface OneFit {
  /** ln of the evidence with ln T flat. */
  readonly lnEvidence: number;
  readonly fitted: FittedSpoke;
  /** The heaviest node, the shared errors and ln T there, and its misfit. */
  readonly best: { readonly node: number; readonly errors: Float64Array; readonly lnT: number; readonly chi2: number };
  readonly degreesOfFreedom: number;
  /** Posterior weight of each node. */
  readonly nodeWeights: Float64Array;
}

const LN_2PI = Math.log(2 * Math.PI);
const OWN = ['frequency', 'hubEnd', 'rimEnd', 'calibration'] as const;
/** Slots of one node's summary: ln weight, ln T, χ², then variances: four own ones and `SHARED` common ones. */
const SUMMARY = 3 + OWN.length + SHARED;

/**
 * Posterior of ln T of one spoke, its ends and all errors of the description integrated out.
 *
 * Method: the prior of the ends is a grid of Gaussians in ln k; at each node the tones are linear in every error, whose covariance
 * joins the tones' own, and generalised least squares gives ln T, its variance by input (GUM) and the evidence; nodes are mixed by it.
 * @source Aitken, Proc. R. Soc. Edinburgh 55 (1936), 42 (generalised least squares); JCGM 100:2008 (GUM), 5.2
 */
export const fitOne = (spoke: FitSpoke, grid: ToneTable, prior: SharedPrior, lnNodePrior?: Float64Array): OneFit => {
  const nodes = grid.hub.lnK.length * grid.rim.lnK.length;
  const work = new Workspace(spoke.lines.length);
  const summary = new Float64Array(nodes * SUMMARY);
  let start = spoke.lnT;
  let best = -1;
  for (let node = 0; node < nodes; node++) {
    const lnPrior = lnNodePrior?.[node] ?? -Math.log(nodes);
    if (lnPrior < -12) {
      summary[node * SUMMARY] = Number.NEGATIVE_INFINITY;
      continue;
    }
    start = work.solve(spoke, node, start, prior, summary, node * SUMMARY);
    summary[node * SUMMARY] = (summary[node * SUMMARY] as number) + lnPrior;
    if (best < 0 || (summary[node * SUMMARY] as number) > (summary[best * SUMMARY] as number)) best = node;
  }
  const top = summary[best * SUMMARY] as number;
  let total = 0;
  let first = 0;
  let second = 0;
  const variances = new Float64Array(OWN.length + SHARED);
  const nodeWeights = new Float64Array(nodes);
  for (let node = 0; node < nodes; node++) {
    const at = node * SUMMARY;
    const w = Math.exp((summary[at] as number) - top);
    if (w < 1e-9) continue;
    const lnT = summary[at + 1] as number;
    nodeWeights[node] = w;
    total += w;
    first += w * lnT;
    second += w * lnT * lnT;
    for (let i = 0; i < variances.length; i++)
      variances[i] = (variances[i] as number) + w * (summary[at + 3 + i] as number);
  }
  const mean = first / total;
  const between = Math.max(second / total - mean * mean, 0);
  const ownParts = { frequency: 0, hubEnd: 0, rimEnd: 0, calibration: 0 };
  let varOwn = 0;
  OWN.forEach((input, i) => {
    ownParts[input] = (variances[i] as number) / total;
    varOwn += ownParts[input];
  });
  const commonParts: Record<SharedInput, number> = {
    mass: 0,
    length: 0,
    crossing: 0,
    stiffness: 0,
    hubEnd: 0,
    rimEnd: 0,
    model: 0,
  };
  let varCommon = between;
  for (let p = 0; p < SHARED; p++) {
    const part = (variances[OWN.length + p] as number) / total;
    commonParts[inputOf(p)] += part;
    varCommon += part;
  }
  // Between the nodes it is the ends that vary; shared out as their slopes within a node are.
  const ends = commonParts.hubEnd + commonParts.rimEnd;
  const hubShare = ends > 0 ? commonParts.hubEnd / ends : 0.5;
  commonParts.hubEnd += between * hubShare;
  commonParts.rimEnd += between * (1 - hubShare);
  const at = best * SUMMARY;
  const lnT = summary[at + 1] as number;
  const { errors, gains } = work.details(spoke, best, lnT, prior);
  const residuals = Float64Array.from(
    spoke.lines,
    (line) => line.lnF - modelled(line.table, best, line.mode, lnT, errors, line.tied),
  );
  return {
    lnEvidence: top + Math.log(total),
    fitted: { lnT: mean, varOwn, varCommon, ownParts, commonParts, residuals, gains },
    best: { node: best, errors, lnT, chi2: summary[at + 2] as number },
    degreesOfFreedom: spoke.lines.length - (spoke.known === undefined ? 1 : 0),
    nodeWeights: nodeWeights.map((w) => w / total),
  };
};

/** Arrays of one fit, used again at every node. */
class Workspace {
  private readonly read = new Float64Array(LINE_SIZE);
  private readonly S: Float64Array;
  private readonly V: Float64Array;
  private readonly J: Float64Array;
  private readonly r: Float64Array;
  private readonly a: Float64Array;
  private readonly b: Float64Array;

  constructor(private readonly n: number) {
    this.S = new Float64Array(n * SHARED);
    this.V = new Float64Array(n * n);
    this.J = new Float64Array(n);
    this.r = new Float64Array(n);
    this.a = new Float64Array(n);
    this.b = new Float64Array(n);
  }

  /** Residuals, slopes, sensitivities and the factor of their covariance at a node; returns ln |V|. */
  private prepare(spoke: FitSpoke, node: number, lnT: number, prior: SharedPrior): number {
    const { n, S, V, J, r, read } = this;
    for (let l = 0; l < n; l++) {
      const line = spoke.lines[l] as FitLine;
      lineAt(line.table, node, line.mode, lnT, read);
      J[l] = read[1] as number;
      writeSensitivities(read, line.mode, line.tied, S, l * SHARED);
      let residual = line.lnF - (read[0] as number);
      for (let p = 0; p < SHARED; p++) residual -= (S[l * SHARED + p] as number) * (prior.mean[p] as number);
      r[l] = residual;
      for (let k = 0; k <= l; k++) {
        let sum = k === l ? line.sigma ** 2 : 0;
        for (let p = 0; p < SHARED; p++)
          sum += (S[l * SHARED + p] as number) * (S[k * SHARED + p] as number) * (prior.sigma[p] as number) ** 2;
        sum += END_SCATTER ** 2 * ((S[l * SHARED + HUB] as number) * (S[k * SHARED + HUB] as number));
        sum += END_SCATTER ** 2 * ((S[l * SHARED + RIM] as number) * (S[k * SHARED + RIM] as number));
        V[l * n + k] = sum;
      }
    }
    return choleskyInPlace(V, n);
  }

  solve(spoke: FitSpoke, node: number, start: number, prior: SharedPrior, out: Float64Array, at: number): number {
    const { n, S, V, J, r, a, b } = this;
    const lnT = tensionAtNode(spoke, node, start);
    let lnDeterminant = this.prepare(spoke, node, lnT, prior);
    a.set(J);
    solveCholeskyInPlace(V, a, n);
    b.set(r);
    solveCholeskyInPlace(V, b, n);
    let A = 0;
    let top = 0;
    let chi2 = 0;
    for (let l = 0; l < n; l++) {
      A += (J[l] as number) * (a[l] as number);
      top += (r[l] as number) * (a[l] as number);
      chi2 += (r[l] as number) * (b[l] as number);
    }
    let observations = n;
    let calibration = 0;
    if (spoke.known !== undefined) {
      const w = 1 / spoke.known.sigma ** 2;
      const d = spoke.known.lnT - lnT;
      A += w;
      top += w * d;
      chi2 += w * d * d;
      lnDeterminant -= Math.log(w);
      observations++;
      calibration = w;
    }
    A += WEAK_TENSION.weight;
    top += WEAK_TENSION.weight * (WEAK_TENSION.lnT - lnT);
    chi2 = Math.max(chi2 - (top * top) / A, 0);
    out[at] = -0.5 * (chi2 + lnDeterminant + Math.log(A) + (observations - 1) * LN_2PI);
    out[at + 1] = lnT + top / A;
    out[at + 2] = chi2;
    let tones = 0;
    for (let l = 0; l < n; l++) tones += ((a[l] as number) / A) ** 2 * (spoke.lines[l] as FitLine).sigma ** 2;
    out[at + 3] = tones;
    let hub = 0;
    let rim = 0;
    for (let p = 0; p < SHARED; p++) {
      let lever = 0;
      for (let l = 0; l < n; l++) lever += (a[l] as number) * (S[l * SHARED + p] as number);
      lever /= A;
      out[at + 3 + OWN.length + p] = (lever * (prior.sigma[p] as number)) ** 2;
      if (p === HUB) hub = lever * END_SCATTER;
      if (p === RIM) rim = lever * END_SCATTER;
    }
    out[at + 4] = hub * hub;
    out[at + 5] = rim * rim;
    out[at + 6] = calibration / (A * A);
    return lnT;
  }

  /** Posterior mean of the shared errors at a node's solution, and each line's share in ln T. */
  details(
    spoke: FitSpoke,
    node: number,
    lnT: number,
    prior: SharedPrior,
  ): { errors: Float64Array; gains: Float64Array } {
    const { n, S, V, J, r, a, b } = this;
    this.prepare(spoke, node, lnT, prior);
    a.set(J);
    solveCholeskyInPlace(V, a, n);
    b.set(r);
    solveCholeskyInPlace(V, b, n);
    const errors = Float64Array.from(prior.mean);
    for (let p = 0; p < SHARED; p++) {
      let sum = 0;
      for (let l = 0; l < n; l++) sum += (S[l * SHARED + p] as number) * (b[l] as number);
      errors[p] = (errors[p] as number) + (prior.sigma[p] as number) ** 2 * sum;
      // The spoke's own scatter of the ends moves its tones alike.
      if (p === HUB || p === RIM) errors[p] = (errors[p] as number) + END_SCATTER ** 2 * sum;
    }
    const weights = a.map(Math.abs);
    const sum = weights.reduce((x, y) => x + y, 0) || 1;
    return { errors, gains: weights.map((w) => w / sum) };
  }
}
