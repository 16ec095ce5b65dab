import type { BandSignal } from './bandSignal.ts';
import { ATOMS, openSums, plainSignalOn, plainSum, pole, sum, turned } from './closedSums.ts';
import { projectSampled } from './sampledBasis.ts';
import { type Glide, undoGlide } from './undoGlide.ts';

/** Most components of one problem; each may have a glided twin. */
export const MOST = ATOMS / 2;
/** Squared norm of a component's part that is new, below which it counts as nothing; a component starts at amplitude 1. */
const COLLINEAR2 = 1e-10;
/** Share of a component that must be new for inner products to hold enough digits, where some components glide and others do not. */
const NEW = 0.05;
/** Share of the energy that rounding leaves. */
const ROUNDING = 1e-15;

/** Poles and glide: (omega, decay) of each component, then glide and ln rate where `hasGlide`. */
export interface Point {
  readonly p: Float64Array;
  readonly glides: readonly boolean[];
  readonly hasGlide: boolean;
}
/** Glide of a point; undefined where it has none. */
export const glideAt = ({ p, hasGlide }: Point): Glide | undefined =>
  hasGlide ? { value: p[p.length - 2] as number, rate: Math.exp(p[p.length - 1] as number) } : undefined;

// One problem at a time: the state of the last projection.
/** Complex amplitudes at the point last projected, interleaved. */
export const amplitude = new Float64Array(2 * MOST);
/** Was it made sample by sample? */
export let sampled = false;
const lower = new Float64Array(2 * MOST * MOST);
const onBasis = new Float64Array(2 * MOST);

/**
 * Fits the amplitudes at a point, into `amplitude`.
 * A gliding component is exp((−decay + j·omega)t + j·2π·centre·g·(1−e^(−rate·t))/rate), the others exp((−decay + j·omega)t). The
 * inner products of components that glide alike are geometric sums; only those with the signal, and between a gliding component
 * and another, run over the samples. Where those of a mixed crowd are nearly alike, they are laid out sample by sample instead.
 * @returns energy that the components leave.
 * @source Golub and Pereyra 1973 (projection).
 */
export function project(band: BandSignal, at: Point): number {
  const K = at.glides.length;
  const undone = undoGlide(band, glideAt(at));
  openSums(undone);
  for (let k = 0; k < K; k++) setPole(k, at, 1 / band.rateHz);
  let left = undone.energy;
  let least = 1;
  for (let k = 0; k < K; k++) {
    least = Math.min(least, factorRow(k));
    plainSignalOn(k);
    onBasis[2 * k] = sum[0] as number;
    onBasis[2 * k + 1] = sum[1] as number;
  }
  sampled = least < NEW && isMixed(at);
  if (sampled) return projectSampled(band, K, undone.turns, amplitude);
  offBasis(onBasis, K);
  for (let k = 0; k < K; k++) left -= (onBasis[2 * k] as number) ** 2 + (onBasis[2 * k + 1] as number) ** 2;
  backward(K);
  return Math.max(left, ROUNDING * undone.energy);
}

function setPole(k: number, { p, glides, hasGlide }: Point, dt: number) {
  const fall = Math.exp(-(p[2 * k + 1] as number) * dt);
  const turn = (p[2 * k] as number) * dt;
  pole[2 * k] = fall * Math.cos(turn);
  pole[2 * k + 1] = fall * Math.sin(turn);
  turned[k] = hasGlide && glides[k] ? 1 : 0;
}

const isMixed = ({ glides, hasGlide }: Point) => hasGlide && glides.includes(false) && glides.includes(true);

/** One row of the Cholesky factor of the components' inner products. @returns share of its component's energy that is new. */
function factorRow(k: number): number {
  let share = 1;
  for (let j = 0; j <= k; j++) {
    plainSum(k, j);
    const whole = sum[0] as number;
    let re = whole;
    let im = sum[1] as number;
    for (let m = 0; m < j; m++) {
      const ar = lower[2 * (k * MOST + m)] as number;
      const ai = lower[2 * (k * MOST + m) + 1] as number;
      const br = lower[2 * (j * MOST + m)] as number;
      const bi = lower[2 * (j * MOST + m) + 1] as number;
      re -= ar * br + ai * bi;
      im -= ai * br - ar * bi;
    }
    const at = 2 * (k * MOST + j);
    if (j === k) {
      share = re / whole;
      // Two components at one pole: the second adds nothing and is left out.
      lower[at] = re > COLLINEAR2 ? Math.sqrt(re) : 0;
      lower[at + 1] = 0;
    } else {
      const d = lower[2 * (j * MOST + j)] as number;
      lower[at] = d > 0 ? re / d : 0;
      lower[at + 1] = d > 0 ? im / d : 0;
    }
  }
  return share;
}

/** From products with the first K components to those with their orthonormal basis, in place. */
export function offBasis(v: Float64Array, K: number) {
  for (let k = 0; k < K; k++) {
    let re = v[2 * k] as number;
    let im = v[2 * k + 1] as number;
    for (let m = 0; m < k; m++) {
      const lr = lower[2 * (k * MOST + m)] as number;
      const li = lower[2 * (k * MOST + m) + 1] as number;
      const ur = v[2 * m] as number;
      const ui = v[2 * m + 1] as number;
      re -= lr * ur - li * ui;
      im -= lr * ui + li * ur;
    }
    const d = lower[2 * (k * MOST + k)] as number;
    v[2 * k] = d > 0 ? re / d : 0;
    v[2 * k + 1] = d > 0 ? im / d : 0;
  }
}

/** The amplitudes from the signal's products with the orthonormal basis. */
function backward(K: number) {
  for (let k = K - 1; k >= 0; k--) {
    let re = onBasis[2 * k] as number;
    let im = onBasis[2 * k + 1] as number;
    for (let m = k + 1; m < K; m++) {
      const lr = lower[2 * (m * MOST + k)] as number;
      const li = lower[2 * (m * MOST + k) + 1] as number;
      const cr = amplitude[2 * m] as number;
      const ci = amplitude[2 * m + 1] as number;
      re -= lr * cr + li * ci;
      im -= lr * ci - li * cr;
    }
    const d = lower[2 * (k * MOST + k)] as number;
    amplitude[2 * k] = d > 0 ? re / d : 0;
    amplitude[2 * k + 1] = d > 0 ? im / d : 0;
  }
}

/** What the components leave of the band at a point, with the glide undone; interleaved. */
export function undoneResidual(band: BandSignal, at: Point): Float64Array {
  project(band, at);
  const { undone, turns, count } = undoGlide(band, glideAt(at));
  const residual = undone.slice(0, 2 * count);
  for (let k = 0; k < at.glides.length; k++) {
    const zr = pole[2 * k] as number;
    const zi = pole[2 * k + 1] as number;
    const turnedBack = at.hasGlide && turned[k] === 0;
    let re = amplitude[2 * k] as number;
    let im = amplitude[2 * k + 1] as number;
    for (let i = 0; i < 2 * count; i += 2) {
      const cr = turnedBack ? (turns[i] as number) : 1;
      const ci = turnedBack ? (turns[i + 1] as number) : 0;
      residual[i] = (residual[i] as number) - (re * cr + im * ci);
      residual[i + 1] = (residual[i + 1] as number) - (im * cr - re * ci);
      const next = re * zr - im * zi;
      im = re * zi + im * zr;
      re = next;
    }
  }
  return residual;
}
