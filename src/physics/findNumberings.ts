import type { Comb } from './combs.ts';
import type { HeardTone } from './heardTones.ts';
import { lnTensionAt } from './lineAt.ts';
import { combAt, lnTensionPrior, type Numbering, number } from './numbering.ts';

export interface Candidate {
  readonly numbering: Numbering;
  /** Where it was found. */
  readonly lnT: number;
  readonly node: number;
  readonly score: number;
}

/** Tones further below the loudest than this start no search; they may still be taken. */
const ANCHOR_DB = 32;
const ANCHOR_MODES = 5;
/** Width added in the search, in ln f: how unlike two nodes may be that share a search node, and the errors of the description. */
const WIDENING = 0.0045;

/** Combs that the person's word makes unlikely are not looked for once a likely one explains this much, ln evidence. */
const UNLIKELY = -2;
const SETTLED = 6;

/**
 * Looks through every tension, a coarse grid of end stiffness and every comb for ways to take the tones.
 *
 * Method: each tone is in turn taken for each of the lowest modes at each grid point, which fixes the tension; the other tones then
 * fall into place or stay foreign. Nothing is followed downhill, so that nothing is trapped; deterministic.
 * @returns distinct numberings, best first, at most `most`
 */
export const findNumberings = (combs: readonly Comb[], tones: readonly HeardTone[], most: number): Candidate[] => {
  const plucks = tones.reduce((n, tone) => Math.max(n, tone.pluck + 1), 0);
  const best = new Map<string, Candidate>();
  let top = Number.NEGATIVE_INFINITY;
  for (const comb of [...combs].sort((a, b) => b.lnPrior - a.lnPrior)) {
    if (comb.lnPrior < UNLIKELY && top > SETTLED) continue;
    const { table } = comb;
    for (const node of table.searchNodes) {
      const tried: number[] = [];
      for (const tone of tones) {
        if (tone.below > ANCHOR_DB) continue;
        for (let m = 0; m < Math.min(ANCHOR_MODES + 1, table.modes); m++) {
          const lnT = lnTensionAt(table, node, m, tone.lnF);
          if (lnT === undefined || tried.some((t) => Math.abs(t - lnT) < 0.0015)) continue;
          tried.push(lnT);
          const { numbering, lnLikelihood } = number(combAt(comb, node, lnT), tones, plucks, WIDENING);
          const score = lnLikelihood + lnTensionPrior(lnT);
          const key = `${combs.indexOf(comb)}:${numbering.modes.join('')}`;
          top = Math.max(top, score);
          const known = best.get(key);
          if (known === undefined || score > known.score) best.set(key, { numbering, lnT, node, score });
        }
      }
    }
  }
  return [...best.values()]
    .filter((c) => c.numbering.modes.some((m) => m > 0))
    .sort((a, b) => b.score - a.score)
    .slice(0, most);
};
