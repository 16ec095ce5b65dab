import type { Item } from './fitGroup.ts';
import { lnTensionPrior, type Numbering } from './numbering.ts';
import type { ToneTable } from './toneTable.ts';
import { type Weighed, type WeighOptions, weighOne } from './weighNumberings.ts';

/** A known tension helps to number tones, but does not bend them: a wrong one must show. */
export const KNOWN_FLOOR = 0.15;

/** ln density of a tension near the side's: heavy-tailed, for a slack spoke is what is looked for. */
export const sideTension =
  (middle: number, spread: number, trust: number) =>
  (lnT: number): number => {
    const d = (lnT - middle) / spread;
    const near = -2 * Math.log(1 + (d * d) / 3) - Math.log(spread * 1.9);
    return trust * Math.max(near, -5) + (1 - trust) * lnTensionPrior(lnT);
  };

/** Weighs a spoke's numberings (and one more, if it is proposed) once more under other priors, best first. */
export const weighAgain = (
  item: Item,
  options: WeighOptions,
  proposal?: { numbering: Numbering; lnT: number },
): Weighed[] => {
  const numberings = item.weighed.slice(0, 6).map((w) => ({ numbering: w.numbering, lnT: w.fit.fitted.lnT }));
  if (proposal !== undefined && !numberings.some((o) => sameNumbering(o.numbering, proposal.numbering)))
    numberings.push(proposal);
  return numberings
    .flatMap(({ numbering, lnT }) => weighOne(item.spoke, numbering, item.tones, lnT, options) ?? [])
    .sort((a, b) => b.lnEvidence - a.lnEvidence);
};

export const sameNumbering = (a: Numbering, b: Numbering): boolean =>
  a.comb.table === b.comb.table && a.modes.every((m, j) => m === b.modes[j]);

/** Node weights with their neighbours' share and a little everywhere, as ln. */
export const broadened = (weights: Float64Array, grid: ToneTable): Float64Array => {
  const hubs = grid.hub.lnK.length;
  const rims = grid.rim.lnK.length;
  const out = new Float64Array(weights.length);
  let sum = 0;
  for (let h = 0; h < hubs; h++)
    for (let r = 0; r < rims; r++) {
      let value = 0.02 / weights.length;
      for (let i = -1; i <= 1; i++)
        for (let j = -1; j <= 1; j++)
          if (h + i >= 0 && h + i < hubs && r + j >= 0 && r + j < rims)
            value += (i === 0 && j === 0 ? 0.5 : 0.06) * (weights[(h + i) * rims + r + j] as number);
      out[h * rims + r] = value;
      sum += value;
    }
  return out.map((v) => Math.log(v / sum));
};
