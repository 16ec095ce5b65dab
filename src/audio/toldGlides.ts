import type { DampedFit } from './fitExponentials.ts';
import { heardAmplitude } from './loudLines.ts';
import type { RefinedTone } from './tonesOfBand.ts';

/** What the sound alone tells of how a tone glides: relative rise of its frequency at the onset, with standard uncertainty. */
export interface ToldGlide {
  readonly relative: number;
  readonly sigma: number;
}
type Fit = Pick<DampedFit, 'glide' | 'glideRate' | 'hasGlide' | 'covariance' | 'parameters'> & {
  readonly components: readonly unknown[];
};

/** The lowest of the tones so loud tells the others its glide; a smaller one is none. See `refineTones`. */
const TELLER = 10 ** (-12 / 20);
const LEAST_GLIDE = 3e-4;
/** What a fit expects of a glide when another band has told it: so much of it, so surely. See `refineTones`. */
const EXPECTED = 0.8;
const SPREAD = 0.25;
const SPREAD_AT_LEAST = 2e-4;
/** Share of a fit's information that may come from that expectation. */
const MOSTLY_EXPECTED = 0.7;
/** What else a band holds hides a glide: it may be so many times as large as that of one tone in noise. */
const HIDDEN = 3;

/**
 * How each tone glides, as far as it is not what the fit expected from the other bands. One tension makes all tones of a plucked spoke glide;
 * that of a spoke that answers stays.
 * @param fits of the bands that the tones come from.
 * @returns parallel to the tones; undefined where nothing is told: none at all glides, several components stand in for a glide, or the tone
 *   stands beside one that glides, where the fit asks no more.
 */
export function toldGlides(tones: readonly RefinedTone[], fits: readonly Fit[]): (ToldGlide | undefined)[] {
  const teller = tellerOf(tones);
  if (!teller) return tones.map(() => undefined);
  const { glideRate } = fits[teller.band] as Fit;
  return tones.map((tone) => {
    const fit = fits[tone.band] as Fit;
    if (tone.glide !== 0) return withoutPrior(sigmaOf(tone, fit), tone.glide, teller.glide);
    return !fit.hasGlide && fit.components.length === 1 ? { relative: 0, sigma: unseen(tone, glideRate) } : undefined;
  });
}

function tellerOf(tones: readonly RefinedTone[]): RefinedTone | undefined {
  const byLevel = [...tones].sort((a, b) => heardAmplitude(b) - heardAmplitude(a));
  const [loudest] = byLevel;
  if (!loudest) return undefined;
  const loud = byLevel.filter((t) => heardAmplitude(t) > TELLER * heardAmplitude(loudest));
  const lowest = loud.reduce((a, b) => (b.frequencyHz < a.frequencyHz ? b : a));
  return [lowest, ...byLevel].find((t) => t.glide >= LEAST_GLIDE);
}

/** Standard deviation of the glide at the onset, prior and sound together. */
function sigmaOf({ glide }: RefinedTone, { covariance, parameters, glide: atStart }: Fit): number {
  const at = parameters - 2;
  return Math.sqrt(covariance[at * parameters + at] as number) * Math.abs(glide / atStart);
}

/** A normal estimate with the normal prior taken out of it. */
function withoutPrior(sigma: number, glide: number, known: number): ToldGlide | undefined {
  const share = (sigma / (SPREAD_AT_LEAST + SPREAD * known)) ** 2;
  if (share > MOSTLY_EXPECTED) return undefined;
  return { relative: (glide - share * EXPECTED * known) / (1 - share), sigma: sigma / Math.sqrt(1 - share) };
}

/**
 * Standard deviation of the glide of one tone in noise.
 * @source Kay 1993, Fundamentals of Statistical Signal Processing I, ch. 3 (bound of one parameter of the phase beside others)
 */
function unseen({ frequencyHz, decayS, snr }: RefinedTone, rate: number): number {
  // exp(−rate·t) under the tone's energy, a·exp(−a·t): its variance, less what a phase that rises with t takes up.
  const a = 2 / decayS;
  const mean = a / (a + rate);
  const slope = a * (a / (a + rate) ** 2 - mean / a);
  const left = a / (a + 2 * rate) - mean ** 2 - slope ** 2;
  return (HIDDEN * rate) / (2 * Math.PI * frequencyHz * Math.sqrt(2 * snr * Math.max(left, 1e-12)));
}
