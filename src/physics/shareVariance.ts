import type { FitSpoke, FittedSpoke } from './fitLine.ts';
import { LINE, LINE_SIZE, lineAt } from './lineAt.ts';
import type { MixedSpoke, SharedFit } from './mixNodes.ts';
import { HUB, inputOf, RIM, SHARED, type SharedInput } from './sharedErrors.ts';
import { noCommonParts } from './spokeAtNode.ts';

/** One spoke's variances in the making. */
interface Parts {
  varOwn: number;
  varCommon: number;
  readonly own: { frequency: number; hubEnd: number; rimEnd: number; calibration: number };
  readonly common: Float64Array;
}

/**
 * How sure each tension of a joint fit is: its variance split into its own and what the group shares, and these by input.
 * @param spokes those that were fitted
 * @source JCGM 100:2008 (GUM), 5.2 (correlated inputs)
 */
export const shareVariance = (spokes: readonly FitSpoke[], fit: SharedFit): FittedSpoke[] => {
  const parts = spokes.map(
    (): Parts => ({
      varOwn: 0,
      varCommon: 0,
      own: { frequency: 0, hubEnd: 0, rimEnd: 0, calibration: 0 },
      common: new Float64Array(SHARED),
    }),
  );
  addNodes(fit, parts);
  return spokes.map((spoke, i) => {
    const { varOwn, varCommon, own, common } = parts[i] as Parts;
    return {
      ...(fit.spokes[i] as MixedSpoke),
      varOwn,
      varCommon,
      ownParts: own,
      commonParts: scaledParts(common, varCommon),
      gains: gainsOf(spoke, fit.best.node, fit.best.lnT[i] as number),
    };
  });
};

/**
 * Adds every node's variances, by weight. What moves all tensions alike is common; what moves one against their mean is its own, be it
 * within a node or from node to node.
 */
const addNodes = ({ spokes, mixture: { nodes, active } }: SharedFit, parts: readonly Parts[]): void => {
  const P = active.length;
  const count = spokes.length;
  const hubAt = active.indexOf(HUB);
  const rimAt = active.indexOf(RIM);
  const groupMean = spokes.reduce((sum, { lnT }) => sum + lnT, 0) / count;
  for (const { fit, weight, covariance } of nodes) {
    const nodeMean = fit.lnT.reduce((sum, lnT) => sum + lnT, 0) / count;
    const average = new Float64Array(P);
    for (let i = 0; i < count; i++)
      for (let p = 0; p < P; p++) average[p] = (average[p] as number) + (fit.lever[i * P + p] as number) / count;
    const ofAverage = times(covariance, average, 0, P);
    for (let i = 0; i < count; i++) {
      const part = parts[i] as Parts;
      const { own: ownParts, common } = part;
      let variance = 0;
      let differential = 0;
      const ofLever = times(covariance, fit.lever, i * P, P);
      for (let p = 0; p < P; p++) {
        const lever = fit.lever[i * P + p] as number;
        const moved = lever * (ofLever[p] as number);
        variance += moved;
        differential += (lever - (average[p] as number)) * ((ofLever[p] as number) - (ofAverage[p] as number));
        const error = active[p] as number;
        common[error] = (common[error] as number) + weight * Math.max(moved, 0);
      }
      if (count === 1) differential = 0;
      const off = (fit.lnT[i] as number) - (spokes[i] as MixedSpoke).lnT;
      const between = off * off;
      const apart = count > 1 ? (off - (nodeMean - groupMean)) ** 2 : 0;
      const own = fit.own[i] as number;
      part.varOwn += weight * (own + differential + apart);
      part.varCommon += weight * Math.max(variance - differential + between - apart, 0);
      const tones = 1 / (fit.pure[i] as number);
      const known = Math.min((fit.calibration[i] as number) * own * own, own);
      ownParts.calibration += weight * known;
      ownParts.frequency += weight * Math.max(Math.min(tones, own) - known, 0);
      const hub = (fit.lever[i * P + hubAt] as number) ** 2;
      const rim = (fit.lever[i * P + rimAt] as number) ** 2;
      const hubShare = hub + rim > 0 ? hub / (hub + rim) : 0.5;
      const ends = Math.max(own - tones, 0) + differential + apart;
      ownParts.hubEnd += weight * ends * hubShare;
      ownParts.rimEnd += weight * ends * (1 - hubShare);
      const commonEnds = weight * Math.max(between - apart, 0);
      common[HUB] = (common[HUB] as number) + commonEnds * hubShare;
      common[RIM] = (common[RIM] as number) + commonEnds * (1 - hubShare);
    }
  }
};

const read = new Float64Array(LINE_SIZE);
/** Share of each line in the answer. */
const gainsOf = ({ lines }: FitSpoke, node: number, lnT: number): Float64Array => {
  const gains = Float64Array.from(lines, (line) => {
    lineAt(line.table, node, line.mode, lnT, read);
    return Math.abs(read[LINE.slope] as number) / line.sigma ** 2;
  });
  const sum = gains.reduce((a, v) => a + v, 0) || 1;
  return gains.map((v) => v / sum);
};

/** Parts by input, scaled to add up to the variance: inputs that the wheel has tied together are shared out. */
const scaledParts = (byError: Float64Array, variance: number): Record<SharedInput, number> => {
  const out = noCommonParts();
  const sum = byError.reduce((a, v) => a + v, 0) || 1;
  byError.forEach((v, p) => {
    out[inputOf(p)] += (v * variance) / sum;
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
