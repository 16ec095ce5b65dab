import { type DampedFit, fitExponentials } from './fitExponentials.ts';
import type { RingBand } from './ringBand.ts';

/** No wire was seen to glide more at the onset as a rule, relative; where nothing else is known of it. */
const LIKELY_GLIDE = 0.01;
/** A stiffer mode follows the tension less, see the glide's prior. */
const SHARE = 0.8;
/**
 * A glide is taken where the criterion falls by two parameters' cost, some ten: up to √10 of its own σ it stays unseen, and it has
 * one sign. Mean square of what is even from 0 to there, in σ².
 */
const UNSEEN = 10 / 3;
/** Bands this far below the loudest may be another spoke's, which does not glide. */
const OWN_DB = 20;
const WIDE = 0.1;
const RATE_SIGMA = 0.3;

/** What a band without glide would say of one, were it fitted: of the glide at the onset, and of each component's place with it. */
interface Probe {
  readonly sigma: number;
  /** Shift of each component, rad/s, by a glide of 1 at the onset. */
  readonly pulls: readonly number[];
}

/**
 * Variance of each component's frequency, (rad/s)², by a glide too small to be seen, for the bands that were fitted without one.
 * Every wire is tighter while it swings, so its pitch starts high; a fit without glide takes the mean, which is sharp. What a band
 * says of the glide, and how far that pulls, are the entries of its information matrix with the glide in it, at none. Where no band
 * shows it, all loud ones together bound it; where another has shown it, it is bounded by that and by the band's own.
 * @param known the glide of the pluck at the onset, relative; absent where no band shows one.
 * @param rate at which it dies, 1/s.
 */
export function unseenGlide(
  bands: readonly RingBand[],
  known: number | undefined,
  rate: number,
): ReadonlyMap<RingBand, readonly number[]> {
  const loudest = Math.max(...bands.map((b) => b.levelDb));
  const probes = new Map<RingBand, Probe>();
  let information = 0;
  for (const b of bands) {
    const fit = b.model?.fit;
    if (!fit || fit.hasGlide) continue;
    const probe = probeOf(b, fit, rate);
    probes.set(b, probe);
    if (b.levelDb > loudest - OWN_DB) information += 1 / probe.sigma ** 2;
  }
  const limit = known ?? LIKELY_GLIDE;
  const variances = new Map<RingBand, readonly number[]>();
  for (const [b, { sigma, pulls }] of probes) {
    const told = known === undefined ? Math.max(information, 1 / sigma ** 2) : 1 / sigma ** 2;
    const unseen = 1 / (1 / limit ** 2 + told / UNSEEN);
    variances.set(
      b,
      pulls.map((pull) => pull * pull * unseen),
    );
  }
  return variances;
}

function probeOf(b: RingBand, fit: DampedFit, rate: number): Probe {
  const gliding = fit.components.map((c) => ({ ...c, glides: true }));
  const prior = { mean: 0, sigma: WIDE, rate, rateSigma: RATE_SIGMA, told: true };
  const { covariance, parameters: P, noise } = fitExponentials(b.raw, gliding, { value: 0, rate, prior }, NO_STEP);
  const g = P - 2;
  const own = covariance[g * P + g] as number;
  const left = SHARE * Math.exp(-rate * b.elapsedS);
  return {
    // The noise is that of the fit, which had the other bands' tones taken out.
    sigma: Math.sqrt((own * fit.noise) / Math.max(noise, 1e-300)) / left,
    pulls: fit.components.map((_, k) => (left * (covariance[2 * k * P + g] as number)) / own),
  };
}
const NO_STEP = { steps: 0, gain: 0 };
