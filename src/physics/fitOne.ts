import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import type { FitLine, FitSpoke, FittedSpoke } from './fitLine.ts';
import { holdOf, varianceWithPartner, withHold } from './holdErrors.ts';
import { LINE_SIZE, lineAt } from './lineAt.ts';
import {
  END_SCATTER,
  HUB,
  inputOf,
  MODEL,
  modelled,
  RIM,
  SHARED,
  type SharedInput,
  type SharedPrior,
  writeSensitivities,
} from './sharedErrors.ts';
import { newStep, stepTension } from './tensionStep.ts';
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

const OWN = ['frequency', 'hubEnd', 'rimEnd', 'calibration'] as const;
/** A step of ln T within which a tone is linear in it to 0.003 %, and how often one is tried. */
export const LINEAR = 0.04;
export const MOST_PASSES = 5;
const COMMON: readonly SharedInput[] = [
  'mass',
  'length',
  'crossing',
  'sections',
  'stiffness',
  'second',
  'hubEnd',
  'rimEnd',
  'model',
];
/** Where each shared error's variance goes, by place in `COMMON`. */
const PLACE = Uint8Array.from({ length: SHARED }, (_, p) => COMMON.indexOf(inputOf(p)));
/** Slots of one node's summary: ln weight, ln T, χ², then variances: the own ones and the common ones. */
const SUMMARY = 3 + OWN.length + COMMON.length;
/** Nodes this far below the best in ln weight need no variances. */
const FAINT = 14;

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
    const lnPrior = lnNodePrior?.[node] ?? (grid.lnPrior[node] as number);
    if (lnPrior < -12) {
      summary[node * SUMMARY] = Number.NEGATIVE_INFINITY;
      continue;
    }
    const worst = best < 0 ? Number.NEGATIVE_INFINITY : (summary[best * SUMMARY] as number) - lnPrior - FAINT;
    start = work.solve(spoke, node, start, prior, summary, node * SUMMARY, worst);
    summary[node * SUMMARY] = (summary[node * SUMMARY] as number) + lnPrior;
    if (best < 0 || (summary[node * SUMMARY] as number) > (summary[best * SUMMARY] as number)) best = node;
  }
  const top = summary[best * SUMMARY] as number;
  let total = 0;
  let first = 0;
  let second = 0;
  const variances = new Float64Array(OWN.length + COMMON.length);
  const nodeWeights = new Float64Array(nodes);
  for (let node = 0; node < nodes; node++) {
    const at = node * SUMMARY;
    const w = Math.exp((summary[at] as number) - top);
    if (w < 1e-6) continue;
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
    sections: 0,
    stiffness: 0,
    second: 0,
    hubEnd: 0,
    rimEnd: 0,
    model: 0,
  };
  let varCommon = between;
  COMMON.forEach((input, i) => {
    commonParts[input] = (variances[OWN.length + i] as number) / total;
    varCommon += commonParts[input];
  });
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
  private readonly step = newStep();
  private readonly M: Float64Array;
  /** Own variance of each line at the node. */
  private readonly O: Float64Array;
  private readonly r: Float64Array;
  private readonly a: Float64Array;
  private readonly b: Float64Array;

  constructor(private readonly n: number) {
    this.S = new Float64Array(n * MODEL);
    this.V = new Float64Array(n * n);
    this.J = new Float64Array(n);
    this.M = new Float64Array(n);
    this.O = new Float64Array(n);
    this.r = new Float64Array(n);
    this.a = new Float64Array(n);
    this.b = new Float64Array(n);
  }

  /** Residuals, slopes, sensitivities and the factor of their covariance at a node; returns ln |V|. */
  private prepare(spoke: FitSpoke, node: number, lnT: number, prior: SharedPrior): number {
    const { n, S, V, J, r, read, M, O } = this;
    const { mean, sigma } = prior;
    for (let l = 0; l < n; l++) {
      const line = spoke.lines[l] as FitLine;
      lineAt(line.table, node, line.mode, lnT, read);
      J[l] = read[1] as number;
      const hold = holdOf(line.table, node);
      writeSensitivities(read, line.tied, hold, S, l * MODEL);
      let residual = line.lnF - (read[0] as number);
      for (let p = 0; p < MODEL; p++) residual -= (S[l * MODEL + p] as number) * (mean[p] as number);
      r[l] = residual;
      // The model's own errors by mode are independent: on the diagonal alone.
      M[l] = withHold(line.table, node, line.model, read);
      O[l] = varianceWithPartner(line.sigma, hold, read[6] as number);
      V[l * n + l] = (O[l] as number) + (M[l] as number) ** 2;
      for (let k = 0; k < l; k++) V[l * n + k] = 0;
      for (let p = 0; p < MODEL; p++) {
        const s = S[l * MODEL + p] as number;
        if (s === 0) continue;
        const scatter = p === HUB || p === RIM ? END_SCATTER ** 2 : 0;
        const weighted = s * ((sigma[p] as number) ** 2 + scatter);
        for (let k = 0; k <= l; k++) V[l * n + k] = (V[l * n + k] as number) + weighted * (S[k * MODEL + p] as number);
      }
    }
    return choleskyInPlace(V, n);
  }

  /** Solves one node, linearised again where ln T moves far; variances only if its ln weight is above `worst`. Returns ln T. */
  solve(
    spoke: FitSpoke,
    node: number,
    start: number,
    prior: SharedPrior,
    out: Float64Array,
    at: number,
    worst: number,
  ): number {
    const { n, S, V, J, r, a, b, M, O, step } = this;
    let lnT = start;
    for (let pass = 0; ; pass++) {
      const lnDeterminant = this.prepare(spoke, node, lnT, prior);
      a.set(J);
      solveCholeskyInPlace(V, a, n);
      b.set(r);
      solveCholeskyInPlace(V, b, n);
      stepTension(spoke, lnT, J, r, a, b, lnDeterminant, step);
      out[at] = step.lnEvidence;
      out[at + 1] = lnT + step.shift;
      out[at + 2] = step.chi2;
      if (Math.abs(step.shift) < LINEAR || pass === MOST_PASSES) break;
      lnT += step.shift;
    }
    if ((out[at] as number) < worst) return out[at + 1] as number;
    const A = step.information;
    const common = at + 3 + OWN.length;
    let tones = 0;
    let model = 0;
    for (let l = 0; l < n; l++) {
      const lever = ((a[l] as number) / A) ** 2;
      tones += lever * (O[l] as number);
      model += lever * (M[l] as number) ** 2;
    }
    out[at + 3] = tones;
    out[common + (PLACE[MODEL] as number)] = model;
    for (let p = 0; p < MODEL; p++) {
      let lever = 0;
      for (let l = 0; l < n; l++) lever += (a[l] as number) * (S[l * MODEL + p] as number);
      lever /= A;
      const slot = common + (PLACE[p] as number);
      out[slot] = (out[slot] as number) + (lever * (prior.sigma[p] as number)) ** 2;
      if (p === HUB) out[at + 4] = (lever * END_SCATTER) ** 2;
      if (p === RIM) out[at + 5] = (lever * END_SCATTER) ** 2;
    }
    if (spoke.known !== undefined) out[at + 6] = 1 / (spoke.known.sigma * A) ** 2;
    return out[at + 1] as number;
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
    for (let p = 0; p < MODEL; p++) {
      let sum = 0;
      for (let l = 0; l < n; l++) sum += (S[l * MODEL + p] as number) * (b[l] as number);
      errors[p] = (errors[p] as number) + (prior.sigma[p] as number) ** 2 * sum;
      // The spoke's own scatter of the ends moves its tones alike.
      if (p === HUB || p === RIM) errors[p] = (errors[p] as number) + END_SCATTER ** 2 * sum;
    }
    const weights = a.map(Math.abs);
    const sum = weights.reduce((x, y) => x + y, 0) || 1;
    return { errors, gains: weights.map((w) => w / sum) };
  }
}
