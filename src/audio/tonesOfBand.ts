import type { Damped, DampedFit } from './fitExponentials.ts';
import type { NoiseBefore } from './noiseBefore.ts';
import type { BandModel } from './refineBand.ts';
import { floorOf, isOf, type RingBand } from './ringBand.ts';
import { bandGain } from './takeBand.ts';

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
/** Two tones of one spoke's two planes lie within this of each other. @source measured splits 0.1–1 %, physics of the ends */
const DOUBLET = 0.012;
/** Faster than this, or of less quality π·f·decay, is the click or the thumb, not a ring. Fingers leave a spoke some 50. */
const FASTEST_DECAY = 160;
const LEAST_QUALITY = 18;
/** Energy over noise density below which a component is not a tone: 12 dB. */
const LEAST_SNR = 16;

/** Samples over which a misfit keeps its phase, for that one independent sample of noise. */
const MISFIT = 16;
/**
 * The tones among the components of a band, doublets numbered with the band's index.
 * @param unseenGlide variance of each component by a glide that the fit has not, (rad/s)²; absent where it has one.
 */
export function tonesOf(
  b: RingBand,
  index: number,
  noise: NoiseBefore | undefined,
  unseenGlide?: readonly number[],
): RefinedTone[] {
  const { fit, rivals } = b.model as BandModel;
  const density = fit.noise / 2 / (b.raw.rateHz / b.raw.correlation);
  // What is left above the noise known from before is no noise but a misfit, which does not average out.
  const floor = Math.min(fit.noise, floorOf(b, noise));
  const unexplained = (floor + MISFIT * (fit.noise - floor)) / fit.noise;
  const found: RefinedTone[] = [];
  fit.components.forEach((c, k) => {
    const frequencyHz = b.raw.centreHz + c.omega / (2 * Math.PI);
    if (
      !isOf(b, frequencyHz) ||
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
      varianceHz2:
        varianceOf(fit, k, rivals) * unexplained +
        hiddenDoublet(fit, k, b, snr) ** 2 +
        (unseenGlide?.[k] ?? 0) / (4 * Math.PI ** 2),
      amplitude: seen * Math.exp(c.decay * b.elapsedS),
      decayS: 1 / c.decay,
      snr,
      band: index,
      row: 2 * k,
      glide: c.glides ? fit.glide * Math.exp(fit.glideRate * b.elapsedS) : 0,
    });
  });
  pairUp(found, index);
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
function hiddenDoublet(fit: DampedFit, k: number, b: RingBand, snr: number): number {
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
