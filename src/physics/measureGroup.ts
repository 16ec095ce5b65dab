import type { MeasureRefusal, Reading } from '../contract.ts';
import { clampedness } from './clampedness.ts';
import type { FitSpoke } from './fitLine.ts';
import { fitShared, ORDINARY_SCATTER, scattersFor } from './fitShared.ts';
import type { HeardTone } from './heardTones.ts';
import type { EndCloud, SharedFit } from './mixNodes.ts';
import { combAt, lnTensionPrior, type Numbering, number } from './numbering.ts';
import { type JointPart, settleNumbering } from './settleNumbering.ts';
import { modelSigma, type Normal, type SharedPrior, sharedPrior } from './sharedErrors.ts';
import type { Learned, SpokeTones } from './spokeTones.ts';
import { tiedEnds } from './tiedEnds.ts';
import type { ToneTable } from './toneTable.ts';
import {
  knownOf,
  SECOND_LOOK,
  soften,
  type Weighed,
  type WeighOptions,
  weighNumberings,
  weighOne,
} from './weighNumberings.ts';

interface Item {
  readonly spoke: SpokeTones;
  readonly tones: readonly HeardTone[];
  weighed: Weighed[];
}
interface GroupOptions {
  readonly grid: ToneTable;
  readonly prior: SharedPrior;
  readonly massPrior?: Normal;
  readonly stiffnessPrior?: Normal;
  /** What the wheel's other groups say of the ends. */
  readonly lnNodePrior?: Float64Array;
}

/** Numberings nearer in evidence than this are weighed again in the light of the group. */
const OPEN = 12;
/** A known tension helps to number tones, but does not bend them: a wrong one must show. */
const KNOWN_FLOOR = 0.15;
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
  const items: Item[] = group.map((spoke) => ({ spoke, ...weighNumberings(spoke, { knownFloor: KNOWN_FLOOR }) }));
  const spares = items.filter((item) => item.spoke.spare === true);
  const priors = priorsFromSpares(spares, readings);
  const wheel = items.filter((item) => item.spoke.spare !== true);
  const main = wheel.find((item) => item.weighed.length > 0);
  if (main === undefined) return { readings, spares, wheel, options: undefined, joint: undefined };
  const grid = main.spoke.prepared.inPlane;
  const { uncertainty } = main.spoke.prepared.described;
  const prior = sharedPrior(grid, uncertainty, priors.massPrior, priors.stiffnessPrior);
  const options: GroupOptions = { grid, prior, ...priors };
  agreeOnGroup(wheel, grid);
  return { readings, spares, wheel, options, joint: fitInRounds(wheel, options, ORDINARY_SCATTER) };
};

/**
 * Second half: fit once more in the light of the wheel's other groups, and read every spoke.
 * @param others what the other groups say of the ends
 */
export const finishGroup = (
  work: GroupWork,
  others: readonly (readonly EndCloud[])[],
): { readings: Map<number, Reading | MeasureRefusal>; learned: Learned | undefined } => {
  const { readings, wheel, spares } = work;
  let { options, joint } = work;
  if (options !== undefined && joint !== undefined) {
    if (others.length > 0) options = { ...options, lnNodePrior: tiedEnds(options.grid, others) };
    joint = fitInRounds(wheel, options, scattersFor(options.grid));
  }
  for (const item of wheel) {
    const index = joint?.items.indexOf(item) ?? -1;
    const part = joint === undefined || index < 0 ? undefined : partOf(joint, index);
    readings.set(item.spoke.id, settleNumbering(item.spoke, item.tones, item.weighed, part));
  }
  const learned =
    joint === undefined || options === undefined ? undefined : learnedFrom(joint, options, readings, spares);
  return { readings, learned };
};

const fitInRounds = (
  wheel: readonly Item[],
  options: GroupOptions,
  scatters: typeof ORDINARY_SCATTER,
): Joint | undefined => {
  let joint = fitJointly(wheel, options);
  for (let round = 1; round < ROUNDS && joint !== undefined; round++) {
    joint = fitSoftened(joint, options);
    if (!renumber(wheel, joint, options)) break;
    joint = fitJointly(wheel, options);
  }
  if (joint === undefined) return undefined;
  const { items, spokes } = fitSoftened(joint, options);
  return { items, spokes, fit: fitShared(spokes, options.grid, options.prior, options.lnNodePrior, scatters) };
};

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
const agreeOnGroup = (wheel: readonly Item[], grid: ToneTable): void => {
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
        density += near * share * nodes * (w.fit.nodeWeights[node] as number);
      }
      // The errors that the spokes share count once, not once a spoke.
      lnNodes[node] = (lnNodes[node] as number) + Math.log(density) * Math.min(1, 6 / ballots.length);
    }
  const best = lnNodes.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const weights = lnNodes.map((v) => Math.exp(v - best));
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

/** ln density of a tension near the side's: heavy-tailed, for a slack spoke is what is looked for. */
const sideTension =
  (middle: number, spread: number, trust: number) =>
  (lnT: number): number => {
    const d = (lnT - middle) / spread;
    const near = -2 * Math.log(1 + (d * d) / 3) - Math.log(spread * 1.9);
    return trust * Math.max(near, -5) + (1 - trust) * lnTensionPrior(lnT);
  };

const weighAgain = (item: Item, options: WeighOptions, proposal?: { numbering: Numbering; lnT: number }): Weighed[] => {
  const numberings = item.weighed.slice(0, 6).map((w) => ({ numbering: w.numbering, lnT: w.fit.fitted.lnT }));
  if (proposal !== undefined && !numberings.some((o) => sameNumbering(o.numbering, proposal.numbering)))
    numberings.push(proposal);
  return numberings
    .flatMap(({ numbering, lnT }) => weighOne(item.spoke, numbering, item.tones, lnT, options) ?? [])
    .sort((a, b) => b.lnEvidence - a.lnEvidence);
};

interface Joint {
  readonly items: Item[];
  readonly spokes: FitSpoke[];
  readonly fit: SharedFit;
}

/** Whether a spoke's best numbering uses the group's grid of ends. */
const onGrid = (table: ToneTable, grid: ToneTable): boolean =>
  table.hub.lnK.length === grid.hub.lnK.length &&
  table.rim.lnK.length === grid.rim.lnK.length &&
  table.hub.lnK.every((k, i) => Math.abs(k - (grid.hub.lnK[i] as number)) < 1e-6) &&
  table.rim.lnK.every((k, i) => Math.abs(k - (grid.rim.lnK[i] as number)) < 1e-6);

const fitJointly = (wheel: readonly Item[], { grid, prior, lnNodePrior }: GroupOptions): Joint | undefined => {
  const items = wheel.filter((item) => {
    const best = item.weighed[0];
    return best !== undefined && best.lnEvidence > 0 && onGrid(best.numbering.comb.table, grid);
  });
  if (items.length === 0) return undefined;
  const spokes = items.map((item): FitSpoke => {
    const best = item.weighed[0] as Weighed;
    const tied = best.numbering.comb.plane !== grid.plane;
    const lnT = best.fit.fitted.lnT;
    const known = item.spoke.known === undefined ? {} : { known: knownOf(item.spoke.known) };
    return { lines: best.spoke.lines.map((line) => ({ ...line, tied })), lnT, ...known };
  });
  return { items, spokes, fit: fitShared(spokes, grid, prior, lnNodePrior) };
};

/** Fits once more with outlying lines given less weight. */
const fitSoftened = (joint: Joint, options: GroupOptions): Joint => {
  let changed = false;
  const spokes = joint.spokes.map((spoke, i) => {
    const softened = soften(spoke, (joint.fit.spokes[i] as SharedFit['spokes'][number]).residuals);
    if (softened !== undefined) changed = true;
    return softened ?? spoke;
  });
  return changed
    ? { ...joint, spokes, fit: fitShared(spokes, options.grid, options.prior, options.lnNodePrior) }
    : joint;
};

/**
 * Weighs doubtful spokes' numberings again: ends as the group's, tension likely near the others' (heavy-tailed, for a slack spoke is
 * what is looked for). True if any spoke's best changed.
 */
const renumber = (wheel: readonly Item[], joint: Joint, options: GroupOptions): boolean => {
  const { fit } = joint;
  const grid = options.grid;
  const tensions = fit.spokes.map((s) => s.lnT).sort((a, b) => a - b);
  const middle = median(tensions);
  const spread = Math.max(1.4826 * median(tensions.map((t) => Math.abs(t - middle)).sort((a, b) => a - b)), 0.08);
  const nodePrior = broadened(fit.nodeWeights, grid);
  const many = Math.min((joint.items.length - 1) / 4, 1);
  const weighOptions: WeighOptions = {
    knownFloor: KNOWN_FLOOR,
    massPrior: { mean: fit.shared.mass.mean, sigma: Math.sqrt(fit.shared.mass.variance) },
    stiffnessPrior: { mean: fit.shared.stiffness.mean, sigma: Math.sqrt(fit.shared.stiffness.variance) },
    lnNodePrior: (table) => (onGrid(table, grid) ? nodePrior : undefined),
    lnTensionPrior: sideTension(middle, spread, many),
  };
  if (joint.items.length < 3) return false;
  let changed = false;
  for (const item of wheel) {
    const best = item.weighed[0];
    if (best === undefined) continue;
    const second = item.weighed[1];
    const index = joint.items.indexOf(item);
    const proposal = index < 0 ? undefined : proposalOf(joint, index, best.numbering);
    const doubtful =
      (second !== undefined && second.lnEvidence > best.lnEvidence - OPEN) ||
      Math.abs(best.fit.fitted.lnT - middle) > 3 * spread ||
      proposal !== undefined;
    if (!doubtful) continue;
    const lnT = joint.fit.best.lnT[index] ?? best.fit.fitted.lnT;
    const again = weighAgain(item, weighOptions, proposal === undefined ? undefined : { numbering: proposal, lnT });
    const winner = again[0];
    if (winner === undefined) continue;
    if (!sameNumbering(winner.numbering, best.numbering)) changed = true;
    item.weighed = again;
  }
  return changed;
};

const sameNumbering = (a: Numbering, b: Numbering): boolean =>
  a.comb.table === b.comb.table && a.modes.every((m, j) => m === b.modes[j]);

/** The spoke's tones numbered by the comb that the whole group expects of it; undefined if that changes nothing. */
const proposalOf = (joint: Joint, index: number, now: Numbering): Numbering | undefined => {
  const { spoke, tones } = joint.items[index] as Item;
  const { node, errors, lnT } = joint.fit.best;
  const at = combAt(now.comb, node, lnT[index] as number, errors);
  const { numbering } = number(at, tones, spoke.plucks.length, SECOND_LOOK);
  return sameNumbering(numbering, now) || numbering.modes.every((m) => m === 0) ? undefined : numbering;
};

/** Node weights with their neighbours' share and a little everywhere, as ln. */
const broadened = (weights: Float64Array, grid: ToneTable): Float64Array => {
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

const median = (sorted: readonly number[]): number => {
  const n = sorted.length;
  return n % 2 === 1
    ? (sorted[(n - 1) / 2] as number)
    : ((sorted[n / 2 - 1] as number) + (sorted[n / 2] as number)) / 2;
};

const partOf = (joint: Joint, index: number): JointPart => {
  const fitSpoke = joint.spokes[index] as FitSpoke;
  const fitted = joint.fit.spokes[index] as SharedFit['spokes'][number];
  let chi2 = 0;
  fitSpoke.lines.forEach((line, l) => {
    chi2 += ((fitted.residuals[l] as number) / Math.hypot(line.sigma, modelSigma(line.mode))) ** 2;
  });
  return {
    fitted,
    fitSpoke,
    node: joint.fit.best.node,
    lnTAtNode: joint.fit.best.lnT[index] as number,
    chi2,
    degreesOfFreedom: fitSpoke.lines.length - 1,
  };
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

/** Departures beyond this many standard uncertainties contradict the description. */
const CONTRADICTION = 3;

/** Whether a known tension lies outside what all the tones say without it. */
const contradictsKnown = (joint: Joint, options: GroupOptions): boolean => {
  if (joint.spokes.every((spoke) => spoke.known === undefined)) return false;
  const unaided = joint.spokes.map(({ lines, lnT }): FitSpoke => ({ lines, lnT }));
  const { spokes } = fitShared(unaided, options.grid, options.prior, options.lnNodePrior);
  return joint.spokes.some(({ known }, i) => {
    const fitted = spokes[i];
    if (known === undefined || fitted === undefined) return false;
    const allowed = Math.sqrt(known.sigma ** 2 + fitted.varOwn + fitted.varCommon);
    return Math.abs(known.lnT - fitted.lnT) > CONTRADICTION * allowed;
  });
};

const learnedFrom = (
  joint: Joint,
  options: GroupOptions,
  readings: ReadonlyMap<number, Reading | MeasureRefusal>,
  spares: readonly Item[],
): Learned => {
  const { shared } = joint.fit;
  const { member, uncertainty } = (joint.items[0] as Item).spoke.prepared.described;
  const meanT = Math.exp(joint.fit.spokes.reduce((sum, s) => sum + s.lnT, 0) / joint.fit.spokes.length);
  const end = (lnK: { mean: number; variance: number }): { value: number; u: number } => {
    const value = clampedness(member, lnK.mean, meanT);
    return { value, u: value * (1 - value) * Math.sqrt(lnK.variance) };
  };
  let contradiction = contradictsKnown(joint, options);
  const moved = (prior: Normal | undefined, sigma: number): boolean => {
    if (prior === undefined) return false;
    const gained = Math.sqrt(Math.max(sigma ** 2 - prior.sigma ** 2, (0.05 * sigma) ** 2));
    return Math.abs(prior.mean) > CONTRADICTION * gained;
  };
  if (moved(options.massPrior, uncertainty.massRelative)) contradiction = true;
  if (moved(options.stiffnessPrior, uncertainty.stiffnessRelative)) contradiction = true;
  if (spares.some((s) => s.spoke.known !== undefined && readings.get(s.spoke.id)?.ok === false)) contradiction = true;
  return {
    hubEnd: end(shared.hubEnd),
    rimEnd: end(shared.rimEnd),
    massFactor: { value: 1 + shared.mass.mean, u: Math.sqrt(shared.mass.variance) },
    stiffnessFactor: { value: 1 + shared.stiffness.mean, u: Math.sqrt(shared.stiffness.variance) },
    degreesOfFreedom: Math.max(joint.fit.degreesOfFreedom - 2, 0),
    contradiction,
  };
};
