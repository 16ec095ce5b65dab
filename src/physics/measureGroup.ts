import type { MeasureRefusal, Reading } from '../contract.ts';
import { agreeOnGroup } from './agreeOnGroup.ts';
import { fitJointly, type GroupOptions, type Item, type Joint, softened } from './fitGroup.ts';
import type { FitSpoke, FittedSpoke } from './fitLine.ts';
import { fitShared, SCATTERS } from './fitShared.ts';
import { ownVarianceAt } from './holdErrors.ts';
import { learnedFrom } from './learnedFrom.ts';
import type { EndCloud, MixedSpoke } from './mixNodes.ts';
import { numberedOnce } from './numberedOnce.ts';
import { renumber } from './renumber.ts';
import { type JointPart, settleNumbering } from './settleNumbering.ts';
import { type Normal, sharedPrior } from './sharedErrors.ts';
import { shareVariance } from './shareVariance.ts';
import type { Learned, SpokeTones } from './spokeTones.ts';
import { tiedEnds } from './tiedEnds.ts';
import type { ToneTable } from './toneTable.ts';

/** Rounds of fit and renumbering; each must change something. */
const ROUNDS = 3;

/** A group in work: its spokes with their numberings, and the joint fit so far. */
export interface GroupWork {
  readonly readings: Map<number, Reading | MeasureRefusal>;
  readonly spares: readonly Item[];
  readonly wheel: readonly Item[];
  readonly options: GroupOptions | undefined;
  readonly joint: Joint | undefined;
}

/**
 * First half of a group's work, from its own tones alone: number each spoke, let them vote, fit all jointly, number the doubtful ones
 * again by what the group taught, fit again.
 * @param group spokes of one group, `spare` ones among them
 */
export const startGroup = (group: readonly SpokeTones[]): GroupWork => {
  const readings = new Map<number, Reading | MeasureRefusal>();
  const items: Item[] = group.map((spoke) => ({ spoke, ...numberedOnce(spoke) }));
  const spares = items.filter((item) => item.spoke.spare === true);
  const priors = priorsFromSpares(spares, readings);
  const wheel = items.filter((item) => item.spoke.spare !== true);
  const main = wheel.find((item) => item.weighed.length > 0);
  if (main === undefined) return { readings, spares, wheel, options: undefined, joint: undefined };
  const grid = gridOf(main, wheel);
  const { uncertainty } = main.spoke.prepared.described;
  const prior = sharedPrior(grid, uncertainty, priors.massPrior, priors.stiffnessPrior);
  const options: GroupOptions = { grid, prior, ...priors };
  agreeOnGroup(wheel, grid);
  return { readings, spares, wheel, options, joint: fitInRounds(wheel, options) };
};

/**
 * Second half: fit once more in the light of the wheel's other groups, where there are any, and read every spoke.
 * @param others what the other groups say of the ends
 */
export const finishGroup = (
  work: GroupWork,
  others: readonly (readonly EndCloud[])[],
): { readings: Map<number, Reading | MeasureRefusal>; learned: Learned | undefined } => {
  const { readings, wheel, spares } = work;
  let { options, joint } = work;
  if (options !== undefined && joint !== undefined && others.length > 0) {
    options = { ...options, lnNodePrior: tiedEnds(options.grid, others) };
    joint = fitInRounds(wheel, options);
  }
  const fitted = joint === undefined ? [] : shareVariance(joint.spokes, joint.fit);
  for (const item of wheel) {
    const index = joint?.items.indexOf(item) ?? -1;
    const part = joint === undefined || index < 0 ? undefined : partOf(joint, fitted, index);
    readings.set(item.spoke.id, settleNumbering(item.spoke, item.tones, item.weighed, part));
  }
  const learned =
    joint === undefined || options === undefined ? undefined : learnedFrom(joint, options, readings, spares);
  return { readings, learned };
};

const fitInRounds = (wheel: readonly Item[], options: GroupOptions): Joint | undefined => {
  const { grid, prior, lnNodePrior } = options;
  let joint = fitJointly(wheel, options);
  for (let round = 1; round < ROUNDS && joint !== undefined; round++) {
    const spokes = softened(joint);
    if (spokes !== undefined) joint = { ...joint, spokes, fit: fitShared(spokes, grid, prior, lnNodePrior) };
    if (!renumber(wheel, joint, options)) break;
    joint = fitJointly(wheel, options);
  }
  if (joint === undefined) return undefined;
  const spokes = softened(joint) ?? joint.spokes;
  return { items: joint.items, spokes, fit: fitShared(spokes, grid, prior, lnNodePrior, SCATTERS) };
};

/** The table of the plane that most spokes rang in: along the rim, or across the wheel where uncrossed blades were plucked so. */
const gridOf = ({ spoke }: Item, wheel: readonly Item[]): ToneTable => {
  const { inPlane, across, described } = spoke.prepared;
  if (described.member.crossingFromHub !== undefined) return inPlane;
  const rang = wheel.flatMap(({ weighed }) => weighed[0]?.numbering.comb.plane ?? []);
  return 2 * rang.filter((plane) => plane === 'across').length > rang.length ? across : inPlane;
};

const partOf = (joint: Joint, allFitted: readonly FittedSpoke[], index: number): JointPart => {
  const fitSpoke = joint.spokes[index] as FitSpoke;
  const fitted = allFitted[index] as FittedSpoke;
  const { node } = joint.fit.best;
  let chi2 = 0;
  fitSpoke.lines.forEach((line, l) => {
    const own = ownVarianceAt(line.table, node, line.mode, fitted.lnT, line.sigma);
    chi2 += (fitted.residuals[l] as number) ** 2 / (own + line.model ** 2);
  });
  return {
    fitted,
    fitSpoke,
    node,
    lnTAtNode: joint.fit.best.lnT[index] as number,
    chi2,
    degreesOfFreedom: fitSpoke.lines.length - 1,
    bornOut: bornOutBySide(joint, index),
  };
};

/** So many spokes make a side, and so near (ln T) they bear one another out. */
export const A_SIDE = 4;
const ALIKE = 0.35;
const bornOutBySide = ({ fit }: Joint, index: number): boolean => {
  const { lnT } = fit.spokes[index] as MixedSpoke;
  return fit.spokes.filter((other) => Math.abs(other.lnT - lnT) < ALIKE).length >= A_SIDE;
};

/** Spare spokes at known loads: their own ends, but the group's mass and stiffness. */
const priorsFromSpares = (
  spares: readonly Item[],
  readings: Map<number, Reading | MeasureRefusal>,
): { massPrior?: Normal; stiffnessPrior?: Normal } => {
  for (const item of spares) readings.set(item.spoke.id, settleNumbering(item.spoke, item.tones, item.weighed));
  const first = spares.find((item) => item.weighed.length > 0);
  if (first === undefined) return {};
  const grid = first.weighed[0]?.numbering.comb.table as ToneTable;
  const joint = fitJointly(spares, { grid, prior: sharedPrior(grid, first.spoke.prepared.described.uncertainty) });
  if (joint === undefined) return {};
  const { mass, stiffness } = joint.fit.shared;
  return {
    massPrior: { mean: mass.mean, sigma: Math.sqrt(mass.variance) },
    stiffnessPrior: { mean: stiffness.mean, sigma: Math.sqrt(stiffness.variance) },
  };
};
