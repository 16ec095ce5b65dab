import type { EndCloud } from './mixNodes.ts';
import type { ToneTable } from './toneTable.ts';

/** How far ends of the same place may differ between the groups (sides) of one wheel, 1 σ of ln k: same nipples and holes, other angles. */
const TIE_OF_GROUPS = 0.35;
/** Chance that a group's ends have nothing to do with the other's. */
const UNTIED = 0.03;

/**
 * ln prior of the nodes of one group from what other groups of the wheel found for their ends: each cloud, widened by `TIE_OF_GROUPS`, read
 * at the nodes. With two groups this is exact message passing; the first half of a group's work never saw the message.
 * @source Pearl, Probabilistic Reasoning in Intelligent Systems (1988), ch. 4 (belief propagation on a tree)
 */
export const tiedEnds = (grid: ToneTable, others: readonly (readonly EndCloud[])[]): Float64Array => {
  const hubs = grid.hub.lnK;
  const rims = grid.rim.lnK;
  const out = new Float64Array(hubs.length * rims.length);
  for (const cloud of others) {
    const density = new Float64Array(out.length);
    let sum = 0;
    hubs.forEach((h, i) => {
      rims.forEach((r, j) => {
        let value = 0;
        for (const { weight, hub, rim } of cloud)
          value += weight * normal(h - hub.mean, hub.variance) * normal(r - rim.mean, rim.variance);
        density[i * rims.length + j] = value;
        sum += value;
      });
    });
    for (let node = 0; node < out.length; node++)
      out[node] =
        (out[node] as number) + Math.log(UNTIED + ((1 - UNTIED) * out.length * (density[node] as number)) / (sum || 1));
  }
  return out;
};

const normal = (distance: number, variance: number): number => {
  const v = variance + TIE_OF_GROUPS ** 2;
  return Math.exp((-0.5 * distance * distance) / v) / Math.sqrt(v);
};
