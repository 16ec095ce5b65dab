import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import type { FitLine, FitSpoke } from './fitLine.ts';
import { holdOf, varianceWithPartner, withHold } from './holdErrors.ts';
import { LINE, LINE_SIZE, lineAt } from './lineAt.ts';
import {
  END_SCATTER,
  HUB,
  inputOf,
  MODEL,
  RIM,
  SHARED,
  type SharedInput,
  type SharedPrior,
  writeSensitivities,
} from './sharedErrors.ts';
import { LINEAR, MOST_PASSES, newStep, stepTension } from './tensionStep.ts';

/** Variances of ln T that are the spoke's own, and those that it would share with others. */
export const OWN_PARTS = ['frequency', 'hubEnd', 'rimEnd', 'calibration'] as const;
export const COMMON_PARTS: readonly SharedInput[] = [
  'mass',
  'length',
  'crossing',
  'sections',
  'stiffness',
  'second',
  'hubEnd',
  'rimEnd',
  'shear',
  'model',
];
/** A variance for each shared input, 0 so far. */
export const noCommonParts = (): Record<SharedInput, number> =>
  Object.fromEntries(COMMON_PARTS.map((input) => [input, 0])) as Record<SharedInput, number>;
/** Slots of one node's summary: ln weight, ln T, χ², then the variances: the own ones and the common ones. */
export const SUMMARY = {
  lnWeight: 0,
  lnT: 1,
  chi2: 2,
  own: 3,
  common: 3 + OWN_PARTS.length,
  size: 3 + OWN_PARTS.length + COMMON_PARTS.length,
} as const;
/** Where each shared error's variance goes, by place in `COMMON_PARTS`. */
const PLACE = Uint8Array.from({ length: SHARED }, (_, p) => COMMON_PARTS.indexOf(inputOf(p)));

/** One spoke at one node of its ends after another, its arrays used again at each. */
export class SpokeAtNode {
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
      J[l] = read[LINE.slope] as number;
      const hold = holdOf(line.table, node);
      writeSensitivities(read, line.tied, hold, S, l * MODEL);
      let residual = line.lnF - (read[LINE.lnF] as number);
      for (let p = 0; p < MODEL; p++) residual -= (S[l * MODEL + p] as number) * (mean[p] as number);
      r[l] = residual;
      // The model's own errors by mode are independent: on the diagonal alone.
      M[l] = withHold(line.table, node, line.model, read);
      O[l] = varianceWithPartner(line.sigma, hold, read[LINE.first] as number);
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
      out[at + SUMMARY.lnWeight] = step.lnEvidence;
      out[at + SUMMARY.lnT] = lnT + step.shift;
      out[at + SUMMARY.chi2] = step.chi2;
      if (Math.abs(step.shift) < LINEAR || pass === MOST_PASSES) break;
      lnT += step.shift;
    }
    if ((out[at + SUMMARY.lnWeight] as number) < worst) return out[at + SUMMARY.lnT] as number;
    const A = step.information;
    const own = at + SUMMARY.own;
    const common = at + SUMMARY.common;
    let tones = 0;
    let model = 0;
    for (let l = 0; l < n; l++) {
      const lever = ((a[l] as number) / A) ** 2;
      tones += lever * (O[l] as number);
      model += lever * (M[l] as number) ** 2;
    }
    out[own] = tones;
    out[common + (PLACE[MODEL] as number)] = model;
    for (let p = 0; p < MODEL; p++) {
      let lever = 0;
      for (let l = 0; l < n; l++) lever += (a[l] as number) * (S[l * MODEL + p] as number);
      lever /= A;
      const slot = common + (PLACE[p] as number);
      out[slot] = (out[slot] as number) + (lever * (prior.sigma[p] as number)) ** 2;
      if (p === HUB) out[own + 1] = (lever * END_SCATTER) ** 2;
      if (p === RIM) out[own + 2] = (lever * END_SCATTER) ** 2;
    }
    if (spoke.known !== undefined) out[own + 3] = 1 / (spoke.known.sigma * A) ** 2;
    return out[at + SUMMARY.lnT] as number;
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
