import { combsOf } from './combs.ts';
import { type Candidate, findNumberings } from './findNumberings.ts';
import type { FitSpoke } from './fitLine.ts';
import { fitOne, type OneFit } from './fitOne.ts';
import { type HeardTone, heardTones } from './heardTones.ts';
import { modelErrorAt } from './modelErrors.ts';
import { combAt, linesOf, lnTensionPrior, type Numbering, number } from './numbering.ts';
import { type Normal, sharedPrior } from './sharedErrors.ts';
import type { SpokeTones } from './spokeTones.ts';
import type { ToneTable } from './toneTable.ts';

/** One way to take a spoke's tones, with the tension that it gives and its evidence. */
export interface Weighed {
  readonly numbering: Numbering;
  readonly spoke: FitSpoke;
  readonly fit: OneFit;
  /** ln evidence against "all tones are foreign". */
  readonly lnEvidence: number;
}
/** The tones of a spoke with the ways to take them. */
export interface WeighedTones {
  readonly tones: readonly HeardTone[];
  readonly weighed: readonly Weighed[];
}
export interface WeighOptions {
  /** ln weights of the nodes of a comb's grid, from what the wheel taught. */
  readonly lnNodePrior?: (table: ToneTable) => Float64Array | undefined;
  readonly massPrior?: Normal;
  readonly stiffnessPrior?: Normal;
  /** ln of the prior density of ln T, per nat. */
  readonly lnTensionPrior?: (lnT: number) => number;
  readonly most?: number;
  /** Known tensions count as no surer than this, in ln T, while numberings are weighed. */
  readonly knownFloor?: number;
}

/** Candidates further behind the best than this cannot matter. */
const HOPELESS = 16;
/** Widening of the second look, in ln f: what the description's errors may still shift between modes. */
export const SECOND_LOOK = 0.0008;

/**
 * Every likely way to take a spoke's tones, weighed by evidence, best first.
 *
 * Method: `findNumberings` proposes; each is fitted with the ends integrated out, numbered once more at its own solution, and weighed
 * by (levels, missing and foreign tones) × (misfit of frequencies) × (prior of tension and of how it was plucked).
 */
export const weighNumberings = (spoke: SpokeTones, options: WeighOptions = {}): WeighedTones => {
  const tones = heardTones(spoke.plucks);
  const combs = combsOf(
    spoke.prepared,
    spoke.plucks.map((p) => p.how),
  );
  const candidates = findNumberings(combs, tones, options.most ?? 8);
  const top = candidates[0]?.score ?? 0;
  const seen = new Set<string>();
  const weighed: Weighed[] = [];
  for (const candidate of candidates) {
    if (candidate.score < top - HOPELESS) continue;
    const result = weigh(spoke, candidate, tones, options, seen);
    if (result !== undefined) weighed.push(result);
  }
  weighed.sort((a, b) => b.lnEvidence - a.lnEvidence);
  return { tones, weighed };
};

const weigh = (
  spoke: SpokeTones,
  candidate: Candidate,
  tones: readonly HeardTone[],
  options: WeighOptions,
  seen: Set<string>,
): Weighed | undefined => {
  let { numbering } = candidate;
  let { lnT } = candidate;
  let best: Weighed | undefined;
  for (let pass = 0; pass < 3; pass++) {
    const key = `${numbering.comb.family}${numbering.comb.plane}${numbering.modes.join('')}`;
    if (seen.has(key)) break;
    seen.add(key);
    const result = weighOne(spoke, numbering, tones, lnT, options);
    if (result === undefined) break;
    if (best === undefined || result.lnEvidence > best.lnEvidence) best = result;
    const { fit } = result;
    lnT = fit.fitted.lnT;
    const { errors } = fit.best;
    const at = combAt(numbering.comb, fit.best.node, fit.best.lnT, { errors, grid: numbering.comb.plane });
    numbering = number(at, tones, spoke.plucks.length, SECOND_LOOK).numbering;
  }
  return best;
};

/** Fits and weighs one numbering as it is; undefined if it takes no tone. */
export const weighOne = (
  spoke: SpokeTones,
  numbering: Numbering,
  tones: readonly HeardTone[],
  lnT: number,
  options: WeighOptions,
): Weighed | undefined => {
  const fitted = fitNumbering(spoke, numbering, tones, lnT, options);
  if (fitted === undefined) return undefined;
  const prior = (options.lnTensionPrior ?? lnTensionPrior)(fitted.fit.fitted.lnT);
  const lnEvidence =
    numbering.lnDiscrete + prior + fitted.fit.lnEvidence + fitted.lnPlucks + earEvidence(spoke, numbering, tones);
  return { numbering, spoke: fitted.spoke, fit: fitted.fit, lnEvidence };
};

/** Fits one numbering; a line far off is given less weight, as under Student's t with 4 degrees of freedom. */
const fitNumbering = (
  spoke: SpokeTones,
  numbering: Numbering,
  tones: readonly HeardTone[],
  lnT: number,
  options: WeighOptions,
): { fit: OneFit; spoke: FitSpoke; lnPlucks: number } | undefined => {
  const grid = numbering.comb.table;
  const { lines: heard, lnPlucks } = linesOf(numbering, tones);
  if (heard.length === 0) return undefined;
  const lines = heard.map((line) => ({ ...line, model: modelErrorAt(line.table, line.mode, lnT) }));
  const nodePrior = options.lnNodePrior?.(grid);
  const { uncertainty } = spoke.prepared.described;
  const prior = sharedPrior(grid, uncertainty, options.massPrior, options.stiffnessPrior);
  const known = spoke.known === undefined ? undefined : knownOf(spoke.known, options.knownFloor);
  const first: FitSpoke = { lines, lnT, ...(known === undefined ? {} : { known }) };
  const fit = fitOne(first, grid, prior, nodePrior);
  const softened = soften(first, fit.fitted.residuals);
  return softened === undefined
    ? { fit, spoke: first, lnPlucks }
    : { fit: fitOne(softened, grid, prior, nodePrior), spoke: softened, lnPlucks };
};

export const knownOf = (known: NonNullable<SpokeTones['known']>, floor = 1e-4): { lnT: number; sigma: number } => ({
  lnT: Math.log(known.tension),
  sigma: Math.max(known.u / known.tension, floor),
});

/** The spoke with its outlying lines widened; undefined if none is outlying. */
export const soften = (spoke: FitSpoke, residuals: Float64Array): FitSpoke | undefined => {
  let changed = false;
  const lines = spoke.lines.map((line, l) => {
    const sigma = Math.hypot(line.sigma, line.model);
    const z = (residuals[l] as number) / sigma;
    if (Math.abs(z) < 1.8) return line;
    changed = true;
    return { ...line, sigma: Math.sqrt(((4 + z * z) / 5) * sigma * sigma - line.model ** 2) };
  });
  return changed ? { ...spoke, lines } : undefined;
};

/** The ear's numberings, where it was told the member: up to one unit of ln evidence, for they come from the same tones. */
export const earEvidence = (spoke: SpokeTones, numbering: Numbering, tones: readonly HeardTone[]): number => {
  let sum = 0;
  let plucks = 0;
  spoke.plucks.forEach((pluck, p) => {
    const proposal = pluck.hypotheses.find((h) => !h.guess);
    if (proposal === undefined) return;
    let agreed = 0;
    let used = 0;
    tones.forEach((tone, j) => {
      if (tone.pluck !== p) return;
      const mine = (numbering.modes[j] as number) > 0;
      const theirs = (proposal.modes[tone.index] ?? 0) > 0;
      if (!mine && !theirs) return;
      used++;
      if (mine && theirs) agreed++;
    });
    plucks++;
    if (used > 0) sum += agreed / used;
  });
  return plucks === 0 ? 0 : sum / plucks;
};
