import type { Peak } from './findPeaks.ts';
import type { Damped, DampedFit, GlidePrior } from './fitExponentials.ts';
import type { NoiseBefore } from './noiseBefore.ts';
import { type BandModel, type BandTask, RATE_UNKNOWN, refineBand } from './refineBand.ts';
import { cutBands, floorOf, type RingBand, reachesInto, without } from './ringBand.ts';
import type { LongSpectrum } from './takeBand.ts';
import { type RefinedTone, tonesOf } from './tonesOfBand.ts';
import { unseenGlide } from './unseenGlide.ts';

export interface RefinedTones {
  readonly tones: RefinedTone[];
  /** Covariance of the angular frequencies and decays of each band. */
  readonly fits: readonly DampedFit[];
  /** Energy of the loud bands that no damped tone accounts for, nor the noise before: a share of their energy, 0..1. */
  readonly misfit: number;
}

export interface RefineTask {
  readonly spectrum: LongSpectrum;
  /** Loudest first. */
  readonly peaks: readonly Peak[];
  /** From the onset to the first sample of the segment, s. */
  readonly skipS: number;
  readonly mostBands: number;
  readonly noise: NoiseBefore | undefined;
}

/** Glides tried where none is known: to 3 % at the onset, dying with the energy of tones of 25 to 400 ms. */
const GLIDES = [2.5, 6, 14, 32, 70].flatMap((rate) =>
  [0.0006, 0.0015, 0.004, 0.008, 0.013, 0.019, 0.027].map((value) => ({ value, rate })),
);
const SHARES = [0.35, 0.6, 0.85, 1.1];

/** Bands that count for the misfit of the whole. */
const MISFIT_DB = 15;
/** Bands within this of the loudest are searched for more than a doublet, and those nearer are fitted twice. */
const LOUD_DB = 25;
const TWICE_DB = 20;
const ANEW_DB = 12;
/** Fainter bands hold one tone: what they say of a spoke is next to nothing. */
const FAINT_DB = 33;

/** Standard deviation of ln rate between the tones of one pluck: the tension is one, its law is not quite an exponential's. */
const SAME_RATE = 0.1;
/** A glide below this is none. */
const LEAST_GLIDE = 3e-4;
/** Bands that are asked for a glide, one after the other. */
const MOST_TELLERS = 3;

/** The glide of the spoke: relative rise at the onset, and the rate at which it dies, 1/s. */
interface Glide {
  readonly value: number;
  readonly rate: number;
  /** Standard deviation of ln rate. */
  readonly rateSigma: number;
}

/**
 * Frequency at zero amplitude, decay, level and uncertainty of each tone.
 * Around each peak a band is heterodyned, decimated and fitted with damped exponentials; what the other bands are known to
 * hold is taken out first. The lowest of the loud bands shows the glide, which one tension impresses on all tones, and so
 * serves the others as prior. The loud bands are fitted once more when all are known.
 */
export function refineTones(task: RefineTask): RefinedTones {
  const bands = cutBands(task.spectrum, task.peaks, task.skipS, task.mostBands, task.noise);
  const loudest = Math.max(...bands.map((b) => b.levelDb));
  const master = bands.filter((b) => b.levelDb > loudest - 12).sort((a, b) => a.centreHz - b.centreHz)[0];
  if (!master) return { tones: [], fits: [], misfit: 0 };
  const order = [master, ...bands.filter((b) => b !== master)];
  let glide: Glide | undefined;
  let tellers = 0;
  const taskOf = (b: RingBand, polish: boolean): BandTask => ({
    polish,
    band: without(b, bands),
    glides: glide ? glidesNear(b, glide) : GLIDES,
    prior: priorOf(b, b === master ? undefined : glide),
    floor: floorOf(b, task.noise),
    most: b.levelDb > loudest - LOUD_DB ? 4 : b.levelDb > loudest - FAINT_DB ? 2 : 1,
    reach: reachOf(b),
  });
  const again: RingBand[] = [];
  for (const b of order) {
    // A band that others reach into is fitted once more when they are known; the rest is done.
    const open =
      b.levelDb > loudest - TWICE_DB && bands.some((other) => other !== b && !other.model && reachesInto(other, b));
    if (open) again.push(b);
    b.model = refineBand(taskOf(b, !open));
    // The first of the loud bands that shows a glide tells it to the others; a small one shows in the upper bands only.
    if (tellers++ < MOST_TELLERS && !(glide && glide.value >= LEAST_GLIDE)) {
      const seen = glideOf(b);
      if (seen.value >= LEAST_GLIDE || tellers === MOST_TELLERS) glide = seen;
    }
  }
  glide ??= { value: 0, rate: 1, rateSigma: RATE_UNKNOWN };
  for (const b of again) {
    const lastTask = taskOf(b, true);
    const model = b.model as BandModel;
    const refit = refineBand({ ...lastTask, from: model.fit });
    // A search that went astray at first: many components, or no glide where the spoke glides.
    const astray =
      b.levelDb > loudest - ANEW_DB &&
      (model.fit.components.length > 2 || (!model.fit.hasGlide && lastTask.glides.length > 0));
    const anew = astray ? refineBand(lastTask) : undefined;
    b.model = anew && anew.fit.bic < refit.fit.bic ? anew : refit;
    if (b === master) glide = glideOf(b);
  }
  const seen = glide.value >= LEAST_GLIDE;
  const unseen = unseenGlide(bands, seen ? glide.value : undefined, seen ? glide.rate : energyRate(master));
  const tones: RefinedTone[] = [];
  bands.forEach((b, i) => {
    const found = tonesOf(b, i, task.noise, unseen.get(b)).filter(
      (t) => !tones.some((other) => Math.abs(other.frequencyHz - t.frequencyHz) < 0.05),
    );
    tones.push(...found);
  });
  return {
    tones,
    fits: bands.map((b) => (b.model as BandModel).fit),
    misfit: misfitOf(
      bands.filter((b) => b.levelDb > loudest - MISFIT_DB),
      task.noise,
    ),
  };
}

function misfitOf(bands: readonly RingBand[], noise: NoiseBefore | undefined): number {
  let all = 0;
  let left = 0;
  for (const b of bands) {
    const { fit } = b.model as BandModel;
    let energy = 0;
    for (let i = 0; i < 2 * b.raw.count; i++) energy += (b.raw.samples[i] as number) ** 2;
    const floor = noise ? floorOf(b, noise) : 0;
    all += energy;
    left += b.raw.count * Math.max(0, fit.noise - 2 * floor);
  }
  return all > 0 ? Math.min(1, left / all) : 1;
}

const reachOf = (b: RingBand) => 2 * Math.PI * Math.min(1.5 * b.coreHz, 1.3 / b.filterS);

function priorOf(b: RingBand, known: Glide | undefined): GlidePrior {
  if (!known) return { mean: 0, sigma: 0.015, rate: 10, rateSigma: RATE_UNKNOWN, told: false };
  const left = Math.exp(-known.rate * b.elapsedS);
  // A stiffer mode follows the tension less: its share of the first tone's glide is 0.3 to 1.
  return {
    mean: 0.8 * known.value * left,
    sigma: 2e-4 + 0.25 * Math.abs(known.value) * left,
    rate: known.rate,
    rateSigma: Math.hypot(SAME_RATE, known.rateSigma),
    told: true,
  };
}

function glidesNear(b: RingBand, known: Glide | undefined): { value: number; rate: number }[] {
  if (!known || known.value < LEAST_GLIDE) return [];
  const left = known.value * Math.exp(-known.rate * b.elapsedS);
  return SHARES.map((share) => ({ value: share * left, rate: known.rate }));
}

/** Rate at which the energy of a band's first component dies, and with it the tension that it adds, 1/s. */
const energyRate = (b: RingBand): number => 2 * ((b.model as BandModel).fit.components[0] as Damped).decay;

function glideOf(b: RingBand): Glide {
  const { fit } = b.model as BandModel;
  const last = fit.parameters - 1;
  return {
    value: fit.glide * Math.exp(fit.glideRate * b.elapsedS),
    rate: fit.glideRate,
    rateSigma: fit.hasGlide ? Math.sqrt(fit.covariance[last * fit.parameters + last] as number) : RATE_UNKNOWN,
  };
}
