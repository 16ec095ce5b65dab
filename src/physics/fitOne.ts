import type { FitSpoke, FittedSpoke } from './fitLine.ts';
import { modelled, type SharedPrior } from './sharedErrors.ts';
import { COMMON_PARTS, noCommonParts, OWN_PARTS, SpokeAtNode, SUMMARY } from './spokeAtNode.ts';
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

/** Nodes this far below the best in ln weight need no variances. */
const FAINT = 14;
/** Nodes of less than this ln prior are not tried. */
const IMPROBABLE = -12;

/**
 * Posterior of ln T of one spoke, its ends and all errors of the description integrated out.
 *
 * Method: the prior of the ends is a grid of Gaussians in ln k; at each node the tones are linear in every error, whose covariance
 * joins the tones' own, and generalised least squares gives ln T, its variance by input (GUM) and the evidence; nodes are mixed by it.
 * @source Aitken, Proc. R. Soc. Edinburgh 55 (1936), 42 (generalised least squares); JCGM 100:2008 (GUM), 5.2
 */
export const fitOne = (spoke: FitSpoke, grid: ToneTable, prior: SharedPrior, lnNodePrior?: Float64Array): OneFit => {
  const work = new SpokeAtNode(spoke.lines.length);
  const { summaries, best } = solveNodes(spoke, grid.lnPrior, lnNodePrior, prior, work);
  const { lnTotal, mean, between, variances, nodeWeights } = mixSummaries(summaries, best);
  const lnT = summaries[best * SUMMARY.size + SUMMARY.lnT] as number;
  const { errors, gains } = work.details(spoke, best, lnT, prior);
  const residuals = Float64Array.from(
    spoke.lines,
    (line) => line.lnF - modelled(line.table, best, line.mode, lnT, errors, line.tied),
  );
  return {
    lnEvidence: lnTotal,
    fitted: { lnT: mean, ...partsOf(variances, between), residuals, gains },
    best: { node: best, errors, lnT, chi2: summaries[best * SUMMARY.size + SUMMARY.chi2] as number },
    degreesOfFreedom: spoke.lines.length - (spoke.known === undefined ? 1 : 0),
    nodeWeights,
  };
};

/** Every node's summary, and which node is the heaviest. */
const solveNodes = (
  spoke: FitSpoke,
  lnGridPrior: ToneTable['lnPrior'],
  lnNodePrior: Float64Array | undefined,
  prior: SharedPrior,
  work: SpokeAtNode,
): { summaries: Float64Array; best: number } => {
  const nodes = lnGridPrior.length;
  const summaries = new Float64Array(nodes * SUMMARY.size);
  const weight = (node: number): number => summaries[node * SUMMARY.size + SUMMARY.lnWeight] as number;
  let start = spoke.lnT;
  let best = -1;
  for (let node = 0; node < nodes; node++) {
    const at = node * SUMMARY.size;
    const lnPrior = lnNodePrior?.[node] ?? (lnGridPrior[node] as number);
    if (lnPrior < IMPROBABLE) {
      summaries[at + SUMMARY.lnWeight] = Number.NEGATIVE_INFINITY;
      continue;
    }
    const worst = best < 0 ? Number.NEGATIVE_INFINITY : weight(best) - lnPrior - FAINT;
    start = work.solve(spoke, node, start, prior, summaries, at, worst);
    summaries[at + SUMMARY.lnWeight] = weight(node) + lnPrior;
    if (best < 0 || weight(node) > weight(best)) best = node;
  }
  return { summaries, best };
};

/** The nodes mixed by weight: ln of their sum, mean ln T, its variance from node to node, and the mean variances within them. */
const mixSummaries = (
  summaries: Float64Array,
  best: number,
): { lnTotal: number; mean: number; between: number; variances: Float64Array; nodeWeights: Float64Array } => {
  const top = summaries[best * SUMMARY.size + SUMMARY.lnWeight] as number;
  const nodeWeights = new Float64Array(summaries.length / SUMMARY.size);
  const variances = new Float64Array(SUMMARY.size - SUMMARY.own);
  let total = 0;
  let first = 0;
  let second = 0;
  for (let node = 0; node < nodeWeights.length; node++) {
    const at = node * SUMMARY.size;
    const w = Math.exp((summaries[at + SUMMARY.lnWeight] as number) - top);
    if (w < 1e-6) continue;
    const lnT = summaries[at + SUMMARY.lnT] as number;
    nodeWeights[node] = w;
    total += w;
    first += w * lnT;
    second += w * lnT * lnT;
    for (let i = 0; i < variances.length; i++)
      variances[i] = (variances[i] as number) + w * (summaries[at + SUMMARY.own + i] as number);
  }
  const mean = first / total;
  return {
    lnTotal: top + Math.log(total),
    mean,
    between: Math.max(second / total - mean * mean, 0),
    variances: variances.map((v) => v / total),
    nodeWeights: nodeWeights.map((w) => w / total),
  };
};

/** Variances by input. Between the nodes it is the ends that vary, shared out as their slopes within a node are. */
const partsOf = (
  variances: Float64Array,
  between: number,
): Pick<FittedSpoke, 'varOwn' | 'varCommon' | 'ownParts' | 'commonParts'> => {
  const of = (i: number): number => variances[i] as number;
  const ownParts = { frequency: 0, hubEnd: 0, rimEnd: 0, calibration: 0 };
  let varOwn = 0;
  OWN_PARTS.forEach((input, i) => {
    ownParts[input] = of(i);
    varOwn += of(i);
  });
  const commonParts = noCommonParts();
  let varCommon = between;
  COMMON_PARTS.forEach((input, i) => {
    commonParts[input] = of(OWN_PARTS.length + i);
    varCommon += commonParts[input];
  });
  const ends = commonParts.hubEnd + commonParts.rimEnd;
  const hubShare = ends > 0 ? commonParts.hubEnd / ends : 0.5;
  commonParts.hubEnd += between * hubShare;
  commonParts.rimEnd += between * (1 - hubShare);
  return { varOwn, varCommon, ownParts, commonParts };
};
