import type { BandSignal } from './bandSignal.ts';
import {
  type DampedFit,
  energyLeft,
  fitExponentials,
  type GlidePrior,
  type GlideStart,
  type Pole,
  QUICK,
  residualOf,
  THOROUGH,
} from './fitExponentials.ts';
import { type GlideLine, glideLines, strongestLine } from './strongestLine.ts';
import type { Glide } from './undoGlide.ts';

type Start = readonly Pole[];

/** The chosen model of one band and the others that were tried. */
export interface BandModel {
  readonly fit: DampedFit;
  readonly rivals: readonly { readonly fit: DampedFit; readonly weight: number }[];
}

export interface BandTask {
  readonly band: BandSignal;
  /** A model to start from; absent: the search starts from nothing. */
  readonly from?: DampedFit;
  /** Glides worth trying, relative rise at the band's first sample and rate, 1/s. */
  readonly glides: readonly Glide[];
  readonly prior: GlidePrior;
  /** Noise power per complex sample known from before the onset; Infinity where it is not known. */
  readonly floor: number;
  /** Is this the last word on the band? Otherwise it is fitted once more when all others are known. */
  readonly polish: boolean;
  /** How many components at most. */
  readonly most: number;
  /** Half width, rad/s, of the band in which components are looked for. */
  readonly reach: number;
}

/** Standard deviation of ln rate where no other band has shown it. */
export const RATE_UNKNOWN = 0.3;
/** Tones this close may be the two planes of one spoke, and glide together. */
const DOUBLET = 0.012;
/** Distances of a second component that are tried, in decay rates of the first. */
const APART = [0.4, 1, 2.2];
/**
 * No model is exactly true: differences of the criterion count for a fifth when rivals are weighed.
 * @source Miller and Dunson 2019, J. Am. Stat. Assoc. 114:1113 (coarsened posterior)
 */
const COARSENING = 5;
/** Fall of the criterion for which one more component is taken. */
const WORTH = 1;
/** Residual power, over the noise known from before, at which a fit is thought to have gone astray. */
const ASTRAY = 1.5;
/** Glides tried with a doublet then, and how many of them are followed. */
const LIKELIEST = 5;
const FOLLOWED = 2;
/** A glide that takes so much more out of a band than none is there. */
const MORE = 1.02;
/** Most that the criterion could fall, below which no further model is tried; a component costs some 12. */
const NOTHING_LEFT = 4;
/** Fall of chi-square, in units of the noise before the onset, that is beyond doubt (four parameters; 40 leaves room for noise that grew). */
const CLEAR = 40;

/**
 * Chooses how many damped exponentials a band holds, and whether they glide.
 * The first is the strongest line after undoing each of the glides worth trying; a glide or one more component is added as
 * long as the Bayesian information criterion falls. The models passed on the way keep their weight exp(−ΔBIC/2), so that
 * doubt about the model can enter the uncertainty.
 * @source Raftery 1995, Sociol. Methodol. 25:111 (weights from the criterion).
 */
export function refineBand(task: BandTask): BandModel {
  const { band } = task;
  const tried: DampedFit[] = [];
  const run = (start: Start, glide: GlideStart | undefined) => {
    const fit = fitExponentials(band, start, glide, QUICK);
    tried.push(fit);
    return fit;
  };
  const better = (fits: DampedFit[]) => fits.reduce((a, b) => (b.bic < a.bic ? b : a));
  const glideOf = (fit: DampedFit): GlideStart | undefined =>
    fit.hasGlide ? { value: fit.glide, rate: fit.glideRate, prior: priorFor(task, fit.glideRate) } : undefined;

  const share = (2 * band.count) / band.correlation / Math.max(task.floor, 1e-30);
  const independent = Math.max(8, (2 * band.count) / band.correlation);
  const grow = (from: DampedFit): DampedFit => {
    const glidedOnce = tried.some((fit) => fit.hasGlide && fit.components.length === 1);
    let best = from;
    for (;;) {
      // Where little more is left than the noise known from before, nothing can win.
      if (independent * Math.log(best.noise / task.floor) < NOTHING_LEFT && Number.isFinite(task.floor)) return best;
      const options: DampedFit[] = [];
      if (best.components.length < task.most)
        options.push(run(withAnother(task, { components: best.components, glide: glideOf(best) }), glideOf(best)));
      if (!best.hasGlide && task.glides.length > 0 && !(best.components.length === 1 && glidedOnce))
        options.push(run(...withGlide(task, best.components)));
      const next = options.length > 0 ? better(options) : undefined;
      if (!next) return best;
      // Where several small tones are left over, each alone lowers the criterion little: the noise known from before decides.
      const clear =
        Number.isFinite(next.bic) &&
        next.components.length > best.components.length &&
        (best.noise - next.noise) * share > CLEAR;
      if (next.bic > best.bic - WORTH && !clear) return best;
      best = next;
    }
  };
  /** More left than noise, or a crowd of components, perhaps in place of a glide. */
  const looksAstray = (fit: DampedFit) =>
    (Number.isFinite(task.floor) && fit.noise > ASTRAY * task.floor) || fit.components.length > 2;
  const lines = task.from ? undefined : glideLines(band, task.glides, task.reach);
  const starts = lines ? begin(task, lines, run) : [task.from as DampedFit];
  if (task.from) tried.push(task.from);
  let best = better((task.prior.told ? [better(starts)] : starts).map(grow));
  if (task.most > 2 && task.glides.length > 0 && looksAstray(best)) {
    const found = doubletStarts(task, lines ?? glideLines(band, task.glides, task.reach), run, better);
    if (found) {
      const other = grow(found);
      if (other.bic < best.bic) best = other;
    }
  }
  if (task.polish) {
    const polished = fitExponentials(band, best.components, glideOf(best), THOROUGH);
    if (polished.bic <= best.bic + 1e-6) best = polished;
  }
  const rivals = tried
    .filter((fit) => fit.parameters !== best.parameters || fit.hasGlide !== best.hasGlide)
    .map((fit) => ({ fit, weight: Math.exp((-0.5 / COARSENING) * Math.max(0, fit.bic - best.bic)) }))
    .filter((r) => r.weight > 1e-3);
  return { fit: best, rivals };
}

/** Where no other band told the rate, it is expected to be what the search found best. */
const priorFor = (task: BandTask, rate: number): GlidePrior =>
  task.prior.rateSigma < RATE_UNKNOWN ? task.prior : { ...task.prior, rate };

type Run = (start: Start, glide: GlideStart | undefined) => DampedFit;

/**
 * One component, with the best of the glides and without; where another band has told the glide, only the one of the two that
 * takes more out of the band.
 */
function begin(task: BandTask, lines: readonly GlideLine[], run: Run): DampedFit[] {
  const plain = strongestLine(task.band, task.band.samples, task.reach, 6);
  let most = plain.power;
  let found: (Glide & { omega: number }) | undefined;
  for (const line of lines)
    if (line.power > most) {
      most = line.power;
      found = line;
    }
  const near = found ?? (task.glides[0] && { omega: plain.omega, ...task.glides[0] });
  const fits: DampedFit[] = [];
  const gliding = found !== undefined && most > MORE * plain.power;
  if (!task.prior.told || !gliding) fits.push(run([{ omega: plain.omega, decay: 6, glides: true }], undefined));
  if (near && (!task.prior.told || gliding))
    fits.push(
      run([{ omega: near.omega, decay: near.rate / 2, glides: true }], {
        value: near.value,
        rate: near.rate,
        prior: priorFor(task, near.rate),
      }),
    );
  return fits;
}

/**
 * Two components under each of the likeliest glides: a beating doublet hides the glide from one component alone, and a search
 * that missed it does not find back. The best of them.
 */
function doubletStarts(
  task: BandTask,
  lines: readonly GlideLine[],
  run: Run,
  better: (fits: DampedFit[]) => DampedFit,
): DampedFit | undefined {
  const ranked = [...lines].sort((a, b) => b.power - a.power).slice(0, LIKELIEST);
  const starts = ranked.map((g) => {
    const start = withAnother(task, { components: [{ omega: g.omega, decay: g.rate / 2, glides: true }], glide: g });
    return { start, g, left: energyLeft(task.band, start, g) };
  });
  starts.sort((a, b) => a.left - b.left);
  const fits = starts
    .slice(0, FOLLOWED)
    .map(({ start, g }) => run(start, { value: g.value, rate: g.rate, prior: priorFor(task, g.rate) }));
  return fits.length > 0 ? better(fits) : undefined;
}

/**
 * The components under the glide that leaves least of the band, of those worth trying.
 * A component fitted without glide sits at its mean frequency; the glide's mean, weighted with the tone's energy, is taken off.
 */
function withGlide(task: BandTask, components: Start): [Start, GlideStart] {
  let best: [Start, GlideStart] | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const g of task.glides) {
    const lowered = components.map((c) => ({
      ...c,
      omega: c.glides
        ? c.omega - (2 * Math.PI * task.band.centreHz * g.value * 2 * c.decay) / (2 * c.decay + g.rate)
        : c.omega,
    }));
    const left = energyLeft(task.band, lowered, g);
    if (left < least) {
      least = left;
      best = [lowered, { ...g, prior: priorFor(task, g.rate) }];
    }
  }
  return best as [Start, GlideStart];
}

/**
 * The components and one more: the strongest line of what the fit leaves, or one close beside the first, whichever leaves
 * less. Within the line's own width the residual of a doublet is a dipole, and its peak says little.
 */
function withAnother(task: BandTask, { components, glide }: { components: Start; glide: Glide | undefined }): Start {
  const lead = components[0] as Pole;
  const rest = residualOf(task.band, components, glide);
  const line = strongestLine(task.band, rest, task.reach, lead.decay);
  const near = DOUBLET * 2 * Math.PI * task.band.centreHz;
  let best: Start = [
    ...components,
    { omega: line.omega, decay: lead.decay, glides: Math.abs(line.omega - lead.omega) < near },
  ];
  if (Math.abs(line.omega - lead.omega) > 4 * lead.decay + 10) return best;
  let least = energyLeft(task.band, best, glide);
  for (const apart of APART)
    for (const side of [-1, 1]) {
      const step = side * apart * Math.max(2, lead.decay);
      const start: Start = [
        { ...lead, omega: lead.omega - 0.3 * step },
        ...components.slice(1),
        { ...lead, omega: lead.omega + 0.7 * step },
      ];
      const left = energyLeft(task.band, start, glide);
      if (left < least) {
        least = left;
        best = start;
      }
    }
  return best;
}
