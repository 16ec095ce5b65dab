import type { FitSpoke } from './fitLine.ts';
import { fitShared } from './fitShared.ts';
import type { HeardTone } from './heardTones.ts';
import type { MixedSpoke, SharedFit } from './mixNodes.ts';
import type { Normal, SharedPrior } from './sharedErrors.ts';
import type { SpokeTones } from './spokeTones.ts';
import type { ToneTable } from './toneTable.ts';
import { knownOf, soften, type Weighed } from './weighNumberings.ts';

/** One spoke of a group in work. */
export interface Item {
  readonly spoke: SpokeTones;
  readonly tones: readonly HeardTone[];
  weighed: readonly Weighed[];
}
/** What a group's fit starts from. */
export interface GroupOptions {
  readonly grid: ToneTable;
  readonly prior: SharedPrior;
  readonly massPrior?: Normal;
  readonly stiffnessPrior?: Normal;
  /** What the wheel's other groups say of the ends. */
  readonly lnNodePrior?: Float64Array;
}

/** A joint fit of the items that take part. */
export interface Joint {
  readonly items: Item[];
  readonly spokes: FitSpoke[];
  readonly fit: SharedFit;
}

/** Spokes of one side differ a little in length and crossing, and so do their holds, in ln K: what counts is the part of the partner's stiffness. */
const SAME_PLACE = 0.3;
/** Whether a spoke's best numbering uses the group's grid of ends. */
export const onGrid = (table: ToneTable, grid: ToneTable): boolean =>
  table.firstAxis === grid.firstAxis &&
  table.hub.lnK.length === grid.hub.lnK.length &&
  table.rim.lnK.length === grid.rim.lnK.length &&
  table.hub.lnK.every((k, i) => Math.abs(k - (grid.hub.lnK[i] as number)) < SAME_PLACE) &&
  table.rim.lnK.every((k, i) => Math.abs(k - (grid.rim.lnK[i] as number)) < SAME_PLACE);

/** Fits all spokes that have a likely numbering on the group's grid, each with its best one. */
export const fitJointly = (wheel: readonly Item[], { grid, prior, lnNodePrior }: GroupOptions): Joint | undefined => {
  const items = wheel.filter((item) => {
    const best = item.weighed[0];
    return best !== undefined && best.lnEvidence > 0 && onGrid(best.numbering.comb.table, grid);
  });
  if (items.length === 0) return undefined;
  const spokes = items.map((item): FitSpoke => {
    const best = item.weighed[0] as Weighed;
    const lnT = best.fit.fitted.lnT;
    const known = item.spoke.known === undefined ? {} : { known: knownOf(item.spoke.known) };
    return {
      lines: best.spoke.lines.map((line) => ({ ...line, tied: line.table.plane !== grid.plane })),
      lnT,
      ...known,
    };
  });
  return { items, spokes, fit: fitShared(spokes, grid, prior, lnNodePrior) };
};

/** The spokes with their outlying lines given less weight; undefined if none is outlying. */
export const softened = ({ spokes, fit }: Joint): FitSpoke[] | undefined => {
  let changed = false;
  const all = spokes.map((spoke, i) => {
    const one = soften(spoke, (fit.spokes[i] as MixedSpoke).residuals);
    if (one !== undefined) changed = true;
    return one ?? spoke;
  });
  return changed ? all : undefined;
};
