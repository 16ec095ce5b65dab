import type { BandSignal } from './bandSignal.ts';
import { amplitude, type Point, project, undoneResidual } from './dampedBasis.ts';
import { normalEquations } from './normalEquations.ts';
import { invert, MOST_UNKNOWNS, solve } from './solveSymmetric.ts';
import type { Glide } from './undoGlide.ts';

/** One damped exponential of a band: c·exp((−decay + j·omega)·t), t from the band's first sample. */
export interface Damped {
  /** rad/s above the band's centre. */
  readonly omega: number;
  /** 1/s. */
  readonly decay: number;
  readonly re: number;
  readonly im: number;
  /** Does it share the glide? Tones of another spoke do not. */
  readonly glides: boolean;
}
export type Pole = Pick<Damped, 'omega' | 'decay' | 'glides'>;

/** What is known of the glide before the fit. */
export interface GlideStart {
  readonly value: number;
  /** Rate at which the glide dies, 1/s. */
  readonly rate: number;
  readonly prior: GlidePrior;
}
export interface GlidePrior {
  readonly mean: number;
  readonly sigma: number;
  readonly rate: number;
  /** Standard deviation of ln rate. */
  readonly rateSigma: number;
  /** Told by another band: then a glide is no free guess and costs nothing in the criterion. */
  readonly told: boolean;
}
export interface DampedFit {
  readonly components: readonly Damped[];
  /** Relative rise of frequency at the band's first sample, 0 without glide. */
  readonly glide: number;
  readonly glideRate: number;
  readonly hasGlide: boolean;
  /** Covariance of (omega, decay) of each component in turn, and last the glide and ln of its rate; row-major, square. */
  readonly covariance: Float64Array;
  readonly parameters: number;
  /** Residual power per complex sample. */
  readonly noise: number;
  /** Bayesian information criterion, smaller is better. */
  readonly bic: number;
}

/** How far the search goes. */
export interface Effort {
  readonly steps: number;
  /** Relative gain of a step below which the search ends. */
  readonly gain: number;
}
export const THOROUGH: Effort = { steps: 12, gain: 1e-6 };
export const QUICK: Effort = { steps: 5, gain: 3e-3 };

/** Standard deviation of ln(decay) among the components of a band. */
const DECAY_SPREAD = 0.7;
/** Free parameters that one more component counts for: two of its amplitude, its frequency; its decay is half known. */
const COST_OF_ANOTHER = 3;
/** A component may be so many times as large as the band's largest sample. */
const MOST_CANCELLING = 3;
const LOWEST_DECAY = 0.15;
const HIGHEST_DECAY = 400;
const HIGHEST_GLIDE = 0.06;
const LOWEST_GLIDE = -0.003;
/** ln of the slowest and fastest rate of a glide. */
const LN_RATE = [0, 6] as const;

// One fit at a time: its normal equations, those with the diagonal raised, and the step.
const H = new Float64Array(MOST_UNKNOWNS * MOST_UNKNOWNS);
const b = new Float64Array(MOST_UNKNOWNS);
const raised = new Float64Array(MOST_UNKNOWNS * MOST_UNKNOWNS);
const move = new Float64Array(MOST_UNKNOWNS);

/**
 * Least-squares fit of damped exponentials with a common relative glide to a complex band signal.
 * The complex amplitudes are eliminated (variable projection) and the poles and the glide found by Levenberg–Marquardt with
 * the simplified Jacobian. The frequency of a gliding tone is f + centre·g·exp(−rate·t), so `omega` is that at zero amplitude.
 * @param start components, the strongest first. 1 to 6.
 * @param glide absent: the fit has none.
 * @source Golub and Pereyra 1973, SIAM J. Numer. Anal. 10:413; Kaufman 1975, BIT 15:49 (Jacobian); Marquardt 1963; Schwarz
 *   1978, Ann. Stat. 6:461 (criterion). Glide: tension follows the energy, Tolonen, Välimäki and Karjalainen 2000,
 *   IEEE Trans. Speech Audio Process. 8:300.
 */
export function fitExponentials(
  band: BandSignal,
  start: readonly Pole[],
  glide?: GlideStart,
  effort: Effort = THOROUGH,
): DampedFit {
  const K = start.length;
  const hasGlide = glide !== undefined;
  const P = 2 * K + (hasGlide ? 2 : 0);
  const limit = Math.PI * band.rateHz * 0.98;
  let at = pointOf(start, glide);
  clamp(at, K, limit);
  let rss = project(band, at);

  let noisePerReal = 0;
  let lambda = 1e-3;
  let trial: Point = { p: new Float64Array(P), glides: at.glides, hasGlide };
  // Is the last projection that of `at`, or of a rejected trial?
  let fresh = true;
  for (let step = 0; step < effort.steps; step++) {
    noisePerReal = (rss / Math.max(1, band.count - K)) * 0.5 * band.correlation;
    normalEquations(band, at, H, b);
    addPriors(at.p, K, glide?.prior, noisePerReal);
    const before = rss + noisePerReal * priorChi2(at.p, K, glide?.prior);
    let gained = -1;
    for (let attempt = 0; attempt < 5 && gained < 0; attempt++) {
      raised.set(H);
      for (let i = 0; i < P; i++) raised[i * P + i] = (H[i * P + i] as number) * (1 + lambda) + 1e-300;
      if (solve(raised, b, P, move)) {
        for (let i = 0; i < P; i++) trial.p[i] = (at.p[i] as number) + (move[i] as number);
        clamp(trial, K, limit);
        const left = project(band, trial);
        const after = left + noisePerReal * priorChi2(trial.p, K, glide?.prior);
        fresh = after < before;
        if (fresh) {
          gained = (before - after) / before;
          const passed = at;
          at = trial;
          trial = passed;
          rss = left;
          lambda = Math.max(1e-9, lambda * 0.2);
          continue;
        }
      }
      lambda *= 6;
    }
    if (!fresh) {
      project(band, at);
      fresh = true;
    }
    if (gained < effort.gain) break;
  }
  const dof = Math.max(1, band.count - K - P / 2);
  noisePerReal = (rss / dof) * 0.5 * band.correlation;
  normalEquations(band, at, H, b);
  addPriors(at.p, K, glide?.prior, noisePerReal);
  const covariance = invert(H, P);
  for (let i = 0; i < P * P; i++) covariance[i] = (covariance[i] as number) * noisePerReal;
  // Two nearly equal poles may cancel each other at any size: that is no pair of tones.
  let heard = 0;
  for (let i = 0; i < 2 * band.count; i++) heard = Math.max(heard, Math.abs(band.samples[i] as number));
  let largest = 0;
  for (let k = 0; k < K; k++)
    largest = Math.max(largest, Math.hypot(amplitude[2 * k] as number, amplitude[2 * k + 1] as number));
  const sound = largest < MOST_CANCELLING * heard;
  const independent = Math.max(8, (2 * band.count) / band.correlation);
  return {
    components: start.map(({ glides }, k) => ({
      omega: at.p[2 * k] as number,
      decay: at.p[2 * k + 1] as number,
      re: amplitude[2 * k] as number,
      im: amplitude[2 * k + 1] as number,
      glides,
    })),
    glide: hasGlide ? (at.p[2 * K] as number) : 0,
    glideRate: hasGlide ? Math.exp(at.p[2 * K + 1] as number) : 1,
    hasGlide,
    covariance,
    parameters: P,
    noise: rss / dof,
    bic: !sound
      ? Number.POSITIVE_INFINITY
      : independent * Math.log(Math.max(rss / band.count, 1e-300)) +
        priorChi2(at.p, K, glide?.prior) +
        (4 + COST_OF_ANOTHER * (K - 1) + (glide && !glide.prior.told ? 2 : 0)) * Math.log(independent),
  };
}

/** Components after the first are expected to decay roughly as it does: how many standard deviations the `k`th is off. */
const apart = (p: Float64Array, k: number): number =>
  Math.log((p[2 * k + 1] as number) / (p[1] as number)) / DECAY_SPREAD;

/** Sum of the squares by which decays, glide and rate miss what is known of them, in standard deviations. */
function priorChi2(p: Float64Array, K: number, prior: GlidePrior | undefined): number {
  let sum = 0;
  if (prior) {
    sum += (((p[2 * K] as number) - prior.mean) / prior.sigma) ** 2;
    sum += (((p[2 * K + 1] as number) - Math.log(prior.rate)) / prior.rateSigma) ** 2;
  }
  for (let k = 1; k < K; k++) sum += apart(p, k) ** 2;
  return sum;
}

/** The priors enter the normal equations as further residuals, in units of the noise of the fit so far. */
function addPriors(p: Float64Array, K: number, prior: GlidePrior | undefined, noisePerReal: number) {
  const P = p.length;
  if (prior) {
    const { mean, sigma, rate, rateSigma } = prior;
    addResidual(2 * K, P, 1 / sigma, ((p[2 * K] as number) - mean) / sigma, noisePerReal);
    addResidual(2 * K + 1, P, 1 / rateSigma, ((p[2 * K + 1] as number) - Math.log(rate)) / rateSigma, noisePerReal);
  }
  for (let k = 1; k < K; k++)
    addResidual(2 * k + 1, P, 1 / (p[2 * k + 1] as number) / DECAY_SPREAD, apart(p, k), noisePerReal);
}

/** One residual of parameter `u` of P, by its slope and how much it is off, in standard deviations. */
function addResidual(u: number, P: number, slope: number, off: number, noisePerReal: number) {
  const diagonal = u * P + u;
  H[diagonal] = (H[diagonal] as number) + noisePerReal * slope * slope;
  b[u] = (b[u] as number) - noisePerReal * slope * off;
}

/** Residual energy of a band at given poles and glide, the amplitudes fitted: what a start is worth before it is followed. */
export const energyLeft = (band: BandSignal, start: readonly Pole[], glide: Glide | undefined): number =>
  project(band, pointOf(start, glide));

/** What components with a glide leave of a band, the glide undone; interleaved. */
export const residualOf = (band: BandSignal, components: readonly Pole[], glide: Glide | undefined): Float64Array =>
  undoneResidual(band, pointOf(components, glide));

function pointOf(start: readonly Pole[], glide: Glide | undefined): Point {
  const K = start.length;
  const p = new Float64Array(2 * K + (glide ? 2 : 0));
  start.forEach((s, k) => {
    p[2 * k] = s.omega;
    p[2 * k + 1] = s.decay;
  });
  if (glide) {
    p[2 * K] = glide.value;
    p[2 * K + 1] = Math.log(glide.rate);
  }
  return { p, glides: start.map((s) => s.glides), hasGlide: glide !== undefined };
}

function clamp({ p, hasGlide }: Point, K: number, limit: number) {
  for (let k = 0; k < K; k++) {
    hold(p, 2 * k, -limit, limit);
    hold(p, 2 * k + 1, LOWEST_DECAY, HIGHEST_DECAY);
  }
  if (hasGlide) {
    hold(p, 2 * K, LOWEST_GLIDE, HIGHEST_GLIDE);
    hold(p, 2 * K + 1, LN_RATE[0], LN_RATE[1]);
  }
}

function hold(p: Float64Array, i: number, low: number, high: number) {
  p[i] = Math.max(low, Math.min(high, p[i] as number));
}
