import type { Plane } from '../contract.ts';
import { type GroupOptions, type Item, type Joint, onGrid } from './fitGroup.ts';
import type { SharedFit } from './mixNodes.ts';
import { combAt, type Numbering, number } from './numbering.ts';
import { broadened, KNOWN_FLOOR, sameNumbering, sideTension, weighAgain } from './weighAgain.ts';
import { taughtBySide, weighBySide } from './weighBySide.ts';
import { SECOND_LOOK, type WeighOptions } from './weighNumberings.ts';

/** Numberings nearer in evidence than this are weighed again in the light of the group. */
const OPEN = 12;
/**
 * Weighs doubtful spokes' numberings again: ends as the group's, tension likely near the others' (heavy-tailed, for a slack spoke is
 * what is looked for). True if any spoke's best changed.
 */
export const renumber = (wheel: readonly Item[], joint: Joint, options: GroupOptions): boolean => {
  const { fit } = joint;
  const grid = options.grid;
  const tensions = fit.spokes.map((s) => s.lnT).sort((a, b) => a - b);
  const middle = median(tensions);
  const spread = Math.max(1.4826 * median(tensions.map((t) => Math.abs(t - middle)).sort((a, b) => a - b)), 0.08);
  const nodePrior = broadened(fit.nodeWeights, grid);
  const many = Math.min((joint.items.length - 1) / 4, 1);
  const lnTensionPrior = sideTension(middle, spread, many);
  const weighOptions: WeighOptions = {
    knownFloor: KNOWN_FLOOR,
    massPrior: { mean: fit.shared.mass.mean, sigma: Math.sqrt(fit.shared.mass.variance) },
    stiffnessPrior: { mean: fit.shared.stiffness.mean, sigma: Math.sqrt(fit.shared.stiffness.variance) },
    lnNodePrior: (table) => (onGrid(table, grid) ? nodePrior : undefined),
    lnTensionPrior,
  };
  if (joint.items.length < 3) return false;
  // One more fit, made only if some spoke is in doubt.
  let taught: { readonly fit: SharedFit | undefined } | undefined;
  let changed = false;
  for (const item of wheel) {
    const best = item.weighed[0];
    if (best === undefined) continue;
    const second = item.weighed[1];
    const index = joint.items.indexOf(item);
    const proposal = index < 0 ? undefined : proposalOf(joint, index, best.numbering, grid.plane);
    const doubtful =
      (second !== undefined && second.lnEvidence > best.lnEvidence - OPEN) ||
      Math.abs(best.fit.fitted.lnT - middle) > 3 * spread ||
      proposal !== undefined;
    if (!doubtful) continue;
    const lnT = joint.fit.best.lnT[index] ?? best.fit.fitted.lnT;
    taught ??= { fit: taughtBySide(joint, options, middle, spread) };
    const again = taught.fit
      ? weighBySide(item, { fit: taught.fit, grid, lnTensionPrior }, weighOptions)
      : weighAgain(item, weighOptions, proposal === undefined ? undefined : { numbering: proposal, lnT });
    const winner = again[0];
    if (winner === undefined) continue;
    if (!sameNumbering(winner.numbering, best.numbering)) changed = true;
    item.weighed = again;
  }
  return changed;
};

/** The spoke's tones numbered by the comb that the whole group expects of it; undefined if that changes nothing. */
const proposalOf = (joint: Joint, index: number, now: Numbering, grid: Plane): Numbering | undefined => {
  const { spoke, tones } = joint.items[index] as Item;
  const { node, errors, lnT } = joint.fit.best;
  const at = combAt(now.comb, node, lnT[index] as number, { errors, grid });
  const { numbering } = number(at, tones, spoke.plucks.length, SECOND_LOOK);
  return sameNumbering(numbering, now) || numbering.modes.every((m) => m === 0) ? undefined : numbering;
};

const median = (sorted: readonly number[]): number => {
  const n = sorted.length;
  return n % 2 === 1
    ? (sorted[(n - 1) / 2] as number)
    : ((sorted[n / 2 - 1] as number) + (sorted[n / 2] as number)) / 2;
};
