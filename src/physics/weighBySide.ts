import type { Comb } from './combs.ts';
import { fitGiven } from './fitGiven.ts';
import { type GroupOptions, type Item, type Joint, onGrid } from './fitGroup.ts';
import type { FitSpoke } from './fitLine.ts';
import { fitShared } from './fitShared.ts';
import { lnFrequencyAt, lnTensionAt } from './lineAt.ts';
import type { MixedSpoke, SharedFit, TaughtNode } from './mixNodes.ts';
import { modelErrorAt } from './modelErrors.ts';
import { combAt, linesOf, type Numbering, number } from './numbering.ts';
import { modelled } from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';
import { KNOWN_FLOOR, sameNumbering } from './weighAgain.ts';
import {
  earEvidence,
  knownOf,
  SECOND_LOOK,
  soften,
  type Weighed,
  type WeighOptions,
  weighOne,
} from './weighNumberings.ts';

/** Tones further below the loudest start no search. */
const ANCHOR_DB = 32;
const ANCHOR_MODES = 5;
/** So many ways that were known before are weighed, and so many new ones. */
const MOST = 6;
const NEW = 4;
/** A way so far behind the best known one in ln evidence, seen from the heaviest node, is not weighed any further. */
const HOPELESS = 18;

/** So many firmly numbered spokes teach the others. */
const FIRM = 4;
/** A rival numbering so far behind in ln evidence, or this near in ln T, casts no doubt. */
const CLEAR = 4;
const NEAR = 0.05;

/** What the firmly numbered spokes of a side say to the others. */
export interface SideTaught {
  readonly fit: SharedFit;
  readonly grid: ToneTable;
  readonly lnTensionPrior: (lnT: number) => number;
}

/**
 * The fit of those spokes whose numbering no rival comes near and whose tension lies with the side's; undefined if they are too few.
 * @param middle ln T of the side, `spread` its scatter
 */
export const taughtBySide = (
  joint: Joint,
  { grid, prior, lnNodePrior }: GroupOptions,
  middle: number,
  spread: number,
): SharedFit | undefined => {
  const firm = joint.spokes.filter((_, i) => {
    const [best, second] = (joint.items[i] as Item).weighed;
    if (best === undefined || Math.abs((joint.fit.spokes[i] as MixedSpoke).lnT - middle) > 3 * spread) return false;
    return second === undefined || second.lnEvidence < best.lnEvidence - CLEAR || isNear(best, second);
  });
  return firm.length < FIRM ? undefined : fitShared(firm, grid, prior, lnNodePrior);
};
const isNear = (a: Weighed, b: Weighed): boolean => Math.abs(a.fit.fitted.lnT - b.fit.fitted.lnT) < NEAR;

/**
 * Weighs the numberings of one spoke by what its side taught: the ends, mass and model errors that the firm spokes share say where each mode
 * lies for any tension, so that a wrong tone stands out that would fit some other ends. Numberings are searched for once more along that comb.
 */
export const weighBySide = (item: Item, side: SideTaught, options: WeighOptions): Weighed[] => {
  const known = item.weighed.slice(0, MOST);
  const ofSide = known.filter(({ numbering }) => onGrid(numbering.comb.table, side.grid));
  const glimpses = ofSide.map((way) => ({ way, at: glimpse(item, way.numbering, way.fit.fitted.lnT, side) }));
  const top = Math.max(...glimpses.map(({ at }) => at.lnEvidence));
  const before = glimpses
    .filter(({ at }) => at.lnEvidence > top - HOPELESS)
    .map(({ way, at }) => inTheLightOf(way, at, side));
  const elsewhere = known
    .filter((way) => !ofSide.includes(way))
    .flatMap(({ numbering, fit }) => weighOne(item.spoke, numbering, item.tones, fit.fitted.lnT, options) ?? []);
  const combs = new Set(known.map(({ numbering }) => numbering.comb));
  const found = [...combs]
    .filter((comb) => onGrid(comb.table, side.grid))
    .flatMap((comb) => alongComb(item, comb, side))
    .filter(({ numbering }) => !known.some((one) => sameNumbering(one.numbering, numbering)))
    .slice(0, NEW)
    .map(({ numbering, lnT }) => ({ numbering, lnT, at: glimpse(item, numbering, lnT, side) }))
    .filter(({ at }) => at.lnEvidence > top - HOPELESS)
    .flatMap(({ numbering, lnT, at }) => {
      const way = weighOne(item.spoke, numbering, item.tones, lnT, options);
      return way === undefined ? [] : inTheLightOf(way, at, side);
    });
  return [...before, ...elsewhere, ...found].sort((a, b) => b.lnEvidence - a.lnEvidence);
};

/** One numbering with the tension and evidence that the side allows it. */
const inTheLightOf = (
  alone: Weighed,
  { spoke, lnBeside }: Glimpse,
  { fit: { taught }, lnTensionPrior }: SideTaught,
): Weighed => {
  const given = fitGiven(spoke, taught);
  const fitted = { ...alone.fit.fitted, lnT: given.lnT, varOwn: given.variance, varCommon: 0 };
  const lnEvidence = lnBeside + lnTensionPrior(given.lnT) + given.lnEvidence;
  return { numbering: alone.numbering, spoke: alone.spoke, fit: { ...alone.fit, fitted }, lnEvidence };
};

/** A numbering as the side's heaviest node sees it. */
interface Glimpse {
  /** Its lines, the outlying ones softened. */
  readonly spoke: FitSpoke;
  readonly lnEvidence: number;
  /** The part of ln evidence that does not hang on the side: levels, plucks, the ear. */
  readonly lnBeside: number;
}
/** Looks at a numbering from the side's heaviest node, its tension sought from `lnT`. */
const glimpse = ({ spoke, tones }: Item, numbering: Numbering, lnT: number, side: SideTaught): Glimpse => {
  const { lines: heard, lnPlucks } = linesOf(numbering, tones);
  const known = spoke.known === undefined ? {} : { known: knownOf(spoke.known, KNOWN_FLOOR) };
  const lines = heard.map((line) => ({
    ...line,
    model: modelErrorAt(line.table, line.mode, lnT),
    tied: line.table.plane !== side.grid.plane,
  }));
  const first: FitSpoke = { lines, lnT, ...known };
  const heaviest = [heaviestOf(side.fit)];
  const once = fitGiven(first, heaviest);
  const softened = soften(first, once.residuals);
  const given = softened === undefined ? once : fitGiven(softened, heaviest);
  const lnBeside = numbering.lnDiscrete + lnPlucks + earEvidence(spoke, numbering, tones);
  return {
    spoke: { ...(softened ?? first), lnT: given.lnT },
    lnEvidence: lnBeside + side.lnTensionPrior(given.lnT) + given.lnEvidence,
    lnBeside,
  };
};
const heaviestOf = ({ taught }: SharedFit): TaughtNode => taught.reduce((a, b) => (b.weight > a.weight ? b : a));

/** Ways to take the tones at any tension, the ends being the side's: each tone in turn for each of the lowest modes. */
const alongComb = ({ spoke, tones }: Item, comb: Comb, side: SideTaught): { numbering: Numbering; lnT: number }[] => {
  const { node, errors, covariance } = heaviestOf(side.fit);
  const tied = comb.plane !== side.grid.plane;
  const found: { numbering: Numbering; lnT: number; score: number }[] = [];
  for (const tone of tones) {
    if (tone.below > ANCHOR_DB) continue;
    for (let m = 0; m < Math.min(ANCHOR_MODES + 1, comb.table.modes); m++) {
      let lnT = lnTensionAt(comb.table, node, m, tone.lnF);
      if (lnT === undefined) continue;
      const shift = modelled(comb.table, node, m, lnT, errors, tied) - lnFrequencyAt(comb.table, node, m, lnT);
      lnT = lnTensionAt(comb.table, node, m, tone.lnF - shift) ?? lnT;
      const at = combAt(comb, node, lnT, { errors, covariance, grid: side.grid.plane });
      const { numbering, lnLikelihood } = number(at, tones, spoke.plucks.length, SECOND_LOOK);
      if (numbering.modes.every((mode) => mode === 0)) continue;
      found.push({ numbering, lnT, score: lnLikelihood + side.lnTensionPrior(lnT) });
    }
  }
  found.sort((a, b) => b.score - a.score);
  return found
    .filter((one, i) => found.findIndex((o) => sameNumbering(o.numbering, one.numbering)) === i)
    .slice(0, MOST);
};
