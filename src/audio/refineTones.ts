import type { Peak } from './findPeaks.ts';
import type { BandSignal, Damped, DampedFit, GlidePrior } from './fitExponentials.ts';
import type { NoiseBefore } from './noiseBefore.ts';
import { type BandModel, type BandTask, RATE_UNKNOWN, refineBand } from './refineBand.ts';
import { bandGain, type LongSpectrum, takeBand } from './takeBand.ts';

/** A tone with everything the fit knows of it. */
export interface RefinedTone {
  readonly frequencyHz: number;
  /** Variance of the frequency, Hz²: noise, glide and choice of model together. */
  readonly varianceHz2: number;
  /** Amplitude at the onset, full scale 1. */
  readonly amplitude: number;
  readonly decayS: number;
  /** Energy over noise density. */
  readonly snr: number;
  /** Which band it came from, and its row in that band's covariance. */
  readonly band: number;
  readonly row: number;
  readonly glide: number;
  pairId?: number;
}
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

/** Two tones of one spoke's two planes lie within this of each other. @source measured splits 0.1–1 %, physics of the ends */
const DOUBLET = 0.012;
/** Faster than this, or of less quality π·f·decay, is the click or the thumb, not a ring. Fingers leave a spoke some 50. */
const FASTEST_DECAY = 160;
const LEAST_QUALITY = 18;
/** Energy over noise density below which a component is not a tone: 12 dB. */
const LEAST_SNR = 16;

/** Glides tried where none is known: to 3 % at the onset, dying with the energy of tones of 25 to 400 ms. */
const GLIDES = [2.5, 6, 14, 32, 70].flatMap((rate) =>
  [0.0015, 0.004, 0.008, 0.013, 0.019, 0.027].map((value) => ({ value, rate })),
);
const SHARES = [0.35, 0.6, 0.85, 1.1];

/** Bands that count for the misfit of the whole. */
const MISFIT_DB = 15;
/** Samples over which a misfit keeps its phase, for that one independent sample of noise. */
const MISFIT = 8;
/** Bands within this of the loudest are searched for more than a doublet, and those nearer are fitted twice. */
const LOUD_DB = 25;
const TWICE_DB = 20;

/** A band on its way: what it holds and what is known of it so far. */
interface Band {
  readonly peaks: readonly Peak[];
  readonly centreHz: number;
  readonly coreHz: number;
  readonly raw: BandSignal;
  /** From the onset to the band's first sample, s. */
  readonly elapsedS: number;
  /** From the segment's start to the band's first sample, s. */
  readonly startS: number;
  readonly filterS: number;
  readonly levelDb: number;
  model?: BandModel;
}
/** The glide of the spoke: relative rise at the onset, and the rate at which it dies, 1/s. */
interface Glide {
  readonly value: number;
  readonly rate: number;
}

/**
 * Frequency at zero amplitude, decay, level and uncertainty of each tone.
 * Around each peak a band is heterodyned, decimated and fitted with damped exponentials; what the other bands are known to
 * hold is taken out first. The lowest of the loud bands shows the glide, which one tension impresses on all tones, and so
 * serves the others as prior. The loud bands are fitted once more when all are known.
 */
export function refineTones(task: RefineTask): RefinedTones {
  const bands = cutBands(task);
  const loudest = Math.max(...bands.map((b) => b.levelDb));
  const master = bands.filter((b) => b.levelDb > loudest - 12).sort((a, b) => a.centreHz - b.centreHz)[0];
  if (!master) return { tones: [], fits: [], misfit: 0 };
  const order = [master, ...bands.filter((b) => b !== master)];
  let glide: Glide | undefined;
  const again = order.filter((b) => b.levelDb > loudest - TWICE_DB);
  const taskOf = (b: Band, polish: boolean): BandTask => ({
    polish,
    band: without(b, bands),
    glides: glide ? glidesNear(b, glide) : GLIDES,
    prior: priorOf(b, b === master ? undefined : glide),
    floor: floorOf(b, task.noise),
    most: b.levelDb > loudest - LOUD_DB ? 4 : 2,
    reach: reachOf(b),
  });
  for (const b of order) {
    b.model = refineBand(taskOf(b, b === master || !again.includes(b)));
    if (b === master) glide = glideOf(b);
  }
  for (const b of again) {
    const lastTask = taskOf(b, true);
    const model = b.model as BandModel;
    const refit = refineBand({ ...lastTask, from: model.fit });
    // A search that went astray at first: many components, or no glide where the spoke glides.
    const astray = model.fit.components.length > 2 || (!model.fit.hasGlide && lastTask.glides.length > 0);
    const anew = astray ? refineBand(lastTask) : undefined;
    b.model = anew && anew.fit.bic < refit.fit.bic ? anew : refit;
    if (b === master) glide = glideOf(b);
  }
  const tones: RefinedTone[] = [];
  bands.forEach((b, i) => {
    const found = tonesOf(b, i, task.noise).filter(
      (t) => !tones.some((other) => Math.abs(other.frequencyHz - t.frequencyHz) < 0.05),
    );
    pairUp(found, i);
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

function misfitOf(bands: readonly Band[], noise: NoiseBefore | undefined): number {
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

const reachOf = (b: Band) => 2 * Math.PI * Math.min(1.5 * b.coreHz, 1.3 / b.filterS);

/** Twice the density times the band's noise bandwidth: the signal stands for the positive frequencies at twice their amplitude. */
const floorOf = (b: Band, noise: NoiseBefore | undefined) =>
  noise ? (2 * noise.densityAt(b.centreHz) * b.raw.rateHz) / b.raw.correlation : Number.POSITIVE_INFINITY;

function cutBands(task: RefineTask): Band[] {
  const done = new Set<Peak>();
  const bands: Band[] = [];
  for (const lead of task.peaks) {
    if (bands.length >= task.mostBands) break;
    if (done.has(lead)) continue;
    const f = lead.frequencyHz;
    const coreHz = Math.max(0.016 * f, 8);
    const taken = takeBand(task.spectrum, f, f < 110 ? 0.05 : Math.max(0.012, Math.min(0.028, 0.9 / coreHz)));
    if (taken.band.count < 24) continue;
    const peaks = task.peaks.filter((p) => !done.has(p) && Math.abs(p.frequencyHz - f) < coreHz);
    for (const p of peaks) done.add(p);
    bands.push({
      peaks,
      centreHz: f,
      coreHz,
      raw: taken.band,
      elapsedS: task.skipS + taken.startS,
      startS: taken.startS,
      filterS: taken.filterS,
      levelDb: lead.levelDb,
    });
  }
  return bands;
}

/** The band with everything taken out that other bands are known to hold. */
function without(b: Band, bands: readonly Band[]): BandSignal {
  const samples = new Float64Array(b.raw.samples);
  const dt = 1 / b.raw.rateHz;
  for (const other of bands) {
    if (other === b || !other.model) continue;
    const { fit } = other.model;
    for (const c of fit.components) {
      const frequencyHz = other.raw.centreHz + c.omega / (2 * Math.PI);
      const off = frequencyHz - b.raw.centreHz;
      const gain = bandGain(off * b.filterS) / bandGain((c.omega / (2 * Math.PI)) * other.filterS);
      if (Math.abs(off) * b.filterS >= 4 || Math.abs(gain) < 1e-6 || Math.abs(gain) > 10) continue;
      const late = b.elapsedS - other.elapsedS;
      const g = c.glides ? fit.glide : 0;
      const rate = fit.glideRate;
      const turned = 2 * Math.PI * other.raw.centreHz;
      for (let i = 0; i < b.raw.count; i++) {
        const t = i * dt + late;
        // The two bands count their phase from their own centres, each from the segment's start.
        const angle =
          c.omega * t +
          (g === 0 ? 0 : (turned * g * (1 - Math.exp(-rate * t))) / rate) +
          2 * Math.PI * (other.raw.centreHz - b.raw.centreHz) * (i * dt + b.startS);
        const size = gain * Math.exp(-c.decay * t);
        const cos = size * Math.cos(angle);
        const sin = size * Math.sin(angle);
        samples[2 * i] = (samples[2 * i] as number) - (c.re * cos - c.im * sin);
        samples[2 * i + 1] = (samples[2 * i + 1] as number) - (c.re * sin + c.im * cos);
      }
    }
  }
  return { ...b.raw, samples };
}

function priorOf(b: Band, known: Glide | undefined): GlidePrior {
  if (!known) return { mean: 0, sigma: 0.015, rate: 10, rateSigma: RATE_UNKNOWN, told: false };
  const left = Math.exp(-known.rate * b.elapsedS);
  // A stiffer mode follows the tension less: its share of the first tone's glide is 0.3 to 1.
  return {
    mean: 0.8 * known.value * left,
    sigma: 2e-4 + 0.25 * Math.abs(known.value) * left,
    rate: known.rate,
    rateSigma: 0.1,
    told: true,
  };
}

function glidesNear(b: Band, known: Glide | undefined): { value: number; rate: number }[] {
  if (!known || known.value < 3e-4) return [];
  const left = known.value * Math.exp(-known.rate * b.elapsedS);
  return SHARES.map((share) => ({ value: share * left, rate: known.rate }));
}

function glideOf(b: Band): Glide {
  const { fit } = b.model as BandModel;
  return { value: fit.glide * Math.exp(fit.glideRate * b.elapsedS), rate: fit.glideRate };
}

function tonesOf(b: Band, index: number, noise: NoiseBefore | undefined): RefinedTone[] {
  const { fit, rivals } = b.model as BandModel;
  const density = fit.noise / 2 / (b.raw.rateHz / b.raw.correlation);
  // What is left above the noise known from before is no noise but a misfit, which does not average out.
  const floor = Math.min(fit.noise, floorOf(b, noise));
  const unexplained = (floor + MISFIT * (fit.noise - floor)) / fit.noise;
  const found: RefinedTone[] = [];
  fit.components.forEach((c, k) => {
    const frequencyHz = b.raw.centreHz + c.omega / (2 * Math.PI);
    if (
      Math.abs(frequencyHz - b.centreHz) > 1.4 * b.coreHz ||
      c.decay > FASTEST_DECAY ||
      Math.PI * frequencyHz < LEAST_QUALITY * c.decay ||
      frequencyHz < 40
    )
      return;
    const seen = Math.hypot(c.re, c.im) / bandGain((frequencyHz - b.raw.centreHz) * b.filterS);
    const snr = (seen * seen) / (4 * c.decay) / Math.max(density, 1e-30);
    if (snr < LEAST_SNR) return;
    found.push({
      frequencyHz,
      varianceHz2: varianceOf(fit, k, rivals) * unexplained + hiddenDoublet(fit, k, b, snr) ** 2,
      amplitude: seen * Math.exp(c.decay * b.elapsedS),
      decayS: 1 / c.decay,
      snr,
      band: index,
      row: 2 * k,
      glide: c.glides ? fit.glide * Math.exp(fit.glideRate * b.elapsedS) : 0,
    });
  });
  return found;
}

/** The fit's own variance, widened by how far the rival models put the same tone, in proportion to their weight. */
function varianceOf(fit: DampedFit, k: number, rivals: BandModel['rivals']): number {
  const P = fit.parameters;
  const own = fit.covariance[2 * k * P + 2 * k] as number;
  const here = fit.components[k] as Damped;
  let total = 1;
  let sum = own;
  for (const { fit: other, weight } of rivals) {
    let nearest = 0;
    other.components.forEach((c, i) => {
      const best = other.components[nearest] as Damped;
      if (Math.abs(c.omega - here.omega) < Math.abs(best.omega - here.omega)) nearest = i;
    });
    const step = (other.components[nearest] as Damped).omega - here.omega;
    const theirs = other.covariance[2 * nearest * other.parameters + 2 * nearest] as number;
    sum += weight * (Math.min(theirs, 100 * own + step * step) + step * step);
    total += weight;
  }
  return sum / total / (4 * Math.PI * Math.PI);
}

/**
 * A doublet too close to be told apart pulls a single tone: its standard deviation, Hz.
 * With amplitude ratio r the second tone leaves r·c·(2π·split·decay)² of the amplitude behind when one damped tone is fitted (c ≈
 * 0.15 for a record of some three decay times); what leaves less than 4 σ is not seen. Splits are taken as even in the logarithm
 * from 0.1 to 1 %, so the share below the limit counts, and the pull is about r times the split.
 */
function hiddenDoublet(fit: DampedFit, k: number, b: Band, snr: number): number {
  const own = fit.components[k] as Damped;
  const f = b.raw.centreHz + own.omega / (2 * Math.PI);
  const mate = fit.components.some(
    (c, i) =>
      i !== k && Math.abs(c.omega - own.omega) < DOUBLET * 2 * Math.PI * f && amplitudeOf(c) > 0.08 * amplitudeOf(own),
  );
  if (mate) return 0;
  const r = 0.4;
  const limit = (Math.sqrt(4 / Math.sqrt(snr) / (r * 0.15)) * own.decay) / (2 * Math.PI);
  const share = Math.max(0, Math.min(1, Math.log10(limit / (0.001 * f))));
  return r * Math.min(limit, 0.003 * f) * Math.sqrt(share);
}

const amplitudeOf = (c: Damped) => Math.hypot(c.re, c.im);

/** The two strongest tones of a band that lie within a doublet's width carry one number. */
function pairUp(found: RefinedTone[], pairId: number) {
  const ranked = [...found].sort((a, b) => b.amplitude * Math.sqrt(b.decayS) - a.amplitude * Math.sqrt(a.decayS));
  const [first, second] = ranked;
  if (!first || !second) return;
  const near = Math.abs(first.frequencyHz / second.frequencyHz - 1) < DOUBLET;
  if (near && second.amplitude > 0.05 * first.amplitude) {
    first.pairId = pairId;
    second.pairId = pairId;
  }
}
