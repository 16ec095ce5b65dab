import { type Item, onGrid } from './fitGroup.ts';
import type { ToneTable } from './toneTable.ts';
import { broadened, KNOWN_FLOOR, sideTension, weighAgain } from './weighAgain.ts';
import type { WeighOptions } from './weighNumberings.ts';

/** Fewer spokes than this make no consensus. */
const QUORUM = 4;
/** Chance that a spoke is unlike its side, or that none of its numberings is right. */
const ODD_ONE = 0.08;
/** Scatter of tension within a side that the vote allows, nat. */
const VOTE_WIDTH = 0.1;

/**
 * A vote before the first joint fit: where numberings of many spokes point to one tension and one pair of ends, every spoke's numberings
 * are weighed again by that. Each spoke has one vote, spread over its numberings, and may be the odd one out.
 */
export const agreeOnGroup = (wheel: readonly Item[], grid: ToneTable): void => {
  const voters = wheel.filter((item) => item.weighed.some((w) => onGrid(w.numbering.comb.table, grid)));
  if (voters.length < QUORUM) return;
  const ballots = voters.map(({ weighed }) => {
    const top = weighed[0]?.lnEvidence ?? 0;
    const raw = weighed.map((w) => Math.exp(w.lnEvidence - top));
    const sum = raw.reduce((a, b) => a + b, 0);
    return weighed.map((w, i) => ({ w, share: (raw[i] as number) / sum }));
  });
  let middle = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (let lnT = Math.log(20); lnT < Math.log(3000); lnT += 0.02) {
    let votes = 0;
    for (const ballot of ballots) {
      let density = ODD_ONE;
      for (const { w, share } of ballot) {
        const width = Math.min(Math.hypot(VOTE_WIDTH, Math.sqrt(w.fit.fitted.varOwn + w.fit.fitted.varCommon)), 0.5);
        density += share * (VOTE_WIDTH / width) * Math.exp(-0.5 * ((lnT - w.fit.fitted.lnT) / width) ** 2);
      }
      votes += Math.log(density);
    }
    if (votes > most) {
      most = votes;
      middle = lnT;
    }
  }
  const nodes = grid.hub.lnK.length * grid.rim.lnK.length;
  const lnNodes = new Float64Array(nodes);
  for (const ballot of ballots)
    for (let node = 0; node < nodes; node++) {
      let density = ODD_ONE;
      for (const { w, share } of ballot) {
        if (!onGrid(w.numbering.comb.table, grid)) continue;
        const near = Math.exp(-0.5 * ((w.fit.fitted.lnT - middle) / 0.25) ** 2);
        density += near * share * (w.fit.nodeWeights[node] as number) * Math.exp(-(grid.lnPrior[node] as number));
      }
      // The errors that the spokes share count once, not once a spoke.
      lnNodes[node] = (lnNodes[node] as number) + Math.log(density) * Math.min(1, 6 / ballots.length);
    }
  const best = lnNodes.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const weights = lnNodes.map((v, node) => Math.exp(v - best + (grid.lnPrior[node] as number)));
  const total = weights.reduce((a, b) => a + b, 0);
  const nodePrior = broadened(
    weights.map((w) => w / total),
    grid,
  );
  const options: WeighOptions = {
    knownFloor: KNOWN_FLOOR,
    lnNodePrior: (table) => (onGrid(table, grid) ? nodePrior : undefined),
    lnTensionPrior: sideTension(middle, 0.12, 1),
  };
  for (const item of voters) item.weighed = weighAgain(item, options);
};
