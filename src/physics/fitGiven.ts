import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import type { FitLine, FitSpoke } from './fitLine.ts';
import { LINE, LINE_SIZE } from './lineAt.ts';
import type { TaughtNode } from './mixNodes.ts';
import { readFitLine } from './readFitLine.ts';
import { activeErrors, END_SCATTER, HUB, RIM, SHARED } from './sharedErrors.ts';
import { LINEAR, MOST_PASSES, newStep, stepTension, type TensionStep } from './tensionStep.ts';

/** The posterior of one spoke's tension in the light of others. */
export interface GivenFit {
  /** ln of the evidence with ln T flat. */
  readonly lnEvidence: number;
  readonly lnT: number;
  readonly variance: number;
  /** The part of ln f heard − expected that is left to each line's own noise, at the heaviest node, in the order of the lines. */
  readonly residuals: Float64Array;
}

const read = new Float64Array(LINE_SIZE);

/**
 * Posterior of ln T of a further spoke of a group, given what the group's other spokes taught of ends, mass and the model's own errors: generalised
 * least squares at each taught node, with the shared errors' full covariance; nodes are mixed by evidence.
 * @source Gelman et al., Bayesian Data Analysis (3rd ed., 2013), ch. 5 (prediction of a new unit)
 */
export const fitGiven = (spoke: FitSpoke, taught: readonly TaughtNode[]): GivenFit => {
  const total = taught.reduce((sum, { weight }) => sum + weight, 0);
  const work = workspaceOf(spoke);
  let start = spoke.lnT;
  const solved = taught.map((node): SolvedGiven => {
    const at = solve(spoke, node, start, work);
    start = at.lnT;
    return { ...at, node, lnWeight: at.lnEvidence + Math.log(node.weight / total) };
  });
  const best = solved.reduce((a, b) => (b.lnWeight > a.lnWeight ? b : a));
  let sum = 0;
  let first = 0;
  let second = 0;
  for (const { lnWeight, lnT, variance } of solved) {
    const w = Math.exp(lnWeight - best.lnWeight);
    sum += w;
    first += w * lnT;
    second += w * (lnT * lnT + variance);
  }
  const lnT = first / sum;
  return {
    lnEvidence: best.lnWeight + Math.log(sum),
    lnT,
    variance: Math.max(second / sum - lnT * lnT, 1e-10),
    residuals: ownNoise(spoke.lines, best, work),
  };
};

/** One taught node's answer. */
interface GivenAt {
  readonly lnEvidence: number;
  readonly lnT: number;
  readonly variance: number;
}
interface SolvedGiven extends GivenAt {
  readonly node: TaughtNode;
  readonly lnWeight: number;
}

const solve = (spoke: FitSpoke, taught: TaughtNode, start: number, work: Workspace): GivenAt => {
  const n = spoke.lines.length;
  const { V, J, r, a, b, step } = work;
  gather(taught.covariance, work);
  let lnT = start;
  for (let pass = 0; ; pass++) {
    prepare(spoke.lines, taught, lnT, work);
    const lnDeterminant = choleskyInPlace(V, n);
    a.set(J);
    solveCholeskyInPlace(V, a, n);
    b.set(r);
    solveCholeskyInPlace(V, b, n);
    stepTension(spoke, lnT, J, r, a, b, lnDeterminant, step);
    const { shift, information, lnEvidence } = step;
    if (Math.abs(shift) < LINEAR || pass === MOST_PASSES)
      return { lnEvidence, lnT: lnT + shift, variance: 1 / information };
    lnT += shift;
  }
};

/** Posterior mean of each line's own noise at a node's answer: σ²·V⁻¹·r. */
const ownNoise = (lines: readonly FitLine[], { node, lnT }: SolvedGiven, work: Workspace): Float64Array => {
  gather(node.covariance, work);
  prepare(lines, node, lnT, work);
  choleskyInPlace(work.V, lines.length);
  solveCholeskyInPlace(work.V, work.r, lines.length);
  return work.r.map((value, l) => value * (lines[l] as FitLine).sigma ** 2);
};

/** Arrays of one fit, used again at every node. */
interface Workspace {
  /** The shared errors that move any of the lines; C and the rows of S and `spread` hold these alone. */
  readonly active: readonly number[];
  /** Their covariance at the node, with the scatter of both ends from spoke to spoke. */
  readonly C: Float64Array;
  readonly V: Float64Array;
  readonly S: Float64Array;
  readonly spread: Float64Array;
  readonly J: Float64Array;
  readonly r: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly step: TensionStep;
}
const workspaceOf = (spoke: FitSpoke): Workspace => {
  const n = spoke.lines.length;
  const active = activeErrors([spoke], (spoke.lines[0] as FitLine).table);
  return {
    active,
    C: new Float64Array(active.length ** 2),
    V: new Float64Array(n * n),
    S: new Float64Array(n * active.length),
    spread: new Float64Array(active.length),
    J: new Float64Array(n),
    r: new Float64Array(n),
    a: new Float64Array(n),
    b: new Float64Array(n),
    step: newStep(),
  };
};

/** Takes the active errors' covariance out of that of all, and adds the scatter of both ends. */
const gather = (covariance: Float64Array, { active, C }: Workspace): void => {
  const P = active.length;
  for (let p = 0; p < P; p++) {
    const error = active[p] as number;
    const from = error * SHARED;
    for (let q = 0; q < P; q++) C[p * P + q] = covariance[from + (active[q] as number)] as number;
    if (error === HUB || error === RIM) C[p * P + p] = (C[p * P + p] as number) + END_SCATTER ** 2;
  }
};

const row = new Float64Array(SHARED);
/** Residuals and their covariance at a node: own noise, and the gathered covariance of the errors. */
const prepare = (
  lines: readonly FitLine[],
  { node, errors }: TaughtNode,
  lnT: number,
  { active, C, V, S, spread, J, r }: Workspace,
): void => {
  const n = lines.length;
  const P = active.length;
  for (let l = 0; l < n; l++) {
    const line = lines[l] as FitLine;
    V[l * n + l] = readFitLine(line, node, lnT, read, row);
    J[l] = read[LINE.slope] as number;
    let expected = read[LINE.lnF] as number;
    for (let p = 0; p < P; p++) {
      const error = active[p] as number;
      const s = row[error] as number;
      S[l * P + p] = s;
      expected += s * (errors[error] as number);
    }
    r[l] = line.lnF - expected;
  }
  for (let l = 0; l < n; l++) {
    // C·s of this line, then its products with the lines before it.
    spread.fill(0);
    for (let p = 0; p < P; p++) {
      const s = S[l * P + p] as number;
      if (s === 0) continue;
      for (let q = 0; q < P; q++) spread[q] = (spread[q] as number) + s * (C[p * P + q] as number);
    }
    for (let k = 0; k <= l; k++) {
      let value = l === k ? (V[l * n + l] as number) : 0;
      for (let p = 0; p < P; p++) value += (spread[p] as number) * (S[k * P + p] as number);
      V[l * n + k] = value;
    }
  }
};
