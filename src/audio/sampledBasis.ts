import type { BandSignal } from './bandSignal.ts';
import { ATOMS, pole, turned } from './closedSums.ts';
import type { Glide } from './undoGlide.ts';

/** Most columns: components, glide and ln rate. */
const MOST = ATOMS / 2 + 2;
/** Norm of a component's part that is new, below which it counts as nothing; a component starts at amplitude 1. */
const COLLINEAR = 1e-5;

// One problem at a time. Columns of complex samples, interleaved: components, their orthonormal basis, derivatives.
const column = () => Array.from({ length: MOST }, () => new Float64Array(0));
const phi = column();
const q = column();
const x = column();
let residual = new Float64Array(0);
/** Upper triangle of the orthonormalisation, complex. */
const r = new Float64Array(2 * MOST * MOST);
const onBasis = new Float64Array(2 * MOST * MOST);

/**
 * Amplitudes and residual energy sample by sample, for components that are nearly alike: their inner products would have lost too
 * many digits. Poles and turns are those set for the closed sums.
 * @param turns phasor of the glide. @param c amplitudes out; both interleaved.
 * @returns energy that the components leave.
 * @source Golub and Van Loan 2013, Matrix Computations, § 5.2.8 (modified Gram–Schmidt)
 */
export function projectSampled(band: BandSignal, K: number, turns: Float64Array, c: Float64Array): number {
  const n = band.count;
  if (residual.length < 2 * n) {
    for (const columns of [phi, q, x]) for (let k = 0; k < MOST; k++) columns[k] = new Float64Array(2 * n);
    residual = new Float64Array(2 * n);
  }
  for (let k = 0; k < K; k++) layComponent(k, turns, n);
  for (let k = 0; k < K; k++) orthonormalise(k, K, n);
  residual.set(band.samples.subarray(0, 2 * n));
  for (let k = 0; k < K; k++) {
    dot(q[k] as Float64Array, residual, n);
    c[2 * k] = dotRe;
    c[2 * k + 1] = dotIm;
    subtract(residual, q[k] as Float64Array, dotRe, dotIm, n);
  }
  for (let k = K - 1; k >= 0; k--) {
    let re = c[2 * k] as number;
    let im = c[2 * k + 1] as number;
    for (let m = k + 1; m < K; m++) {
      const rr = r[2 * (k * K + m)] as number;
      const ri = r[2 * (k * K + m) + 1] as number;
      const cr = c[2 * m] as number;
      const ci = c[2 * m + 1] as number;
      re -= rr * cr - ri * ci;
      im -= rr * ci + ri * cr;
    }
    const d = r[2 * (k * K + k)] as number;
    c[2 * k] = d > 0 ? re / d : 0;
    c[2 * k + 1] = d > 0 ? im / d : 0;
  }
  dot(residual, residual, n);
  return dotRe;
}

function layComponent(k: number, turns: Float64Array, n: number) {
  const e = phi[k] as Float64Array;
  const gliding = turned[k] === 1;
  const zr = pole[2 * k] as number;
  const zi = pole[2 * k + 1] as number;
  let re = 1;
  let im = 0;
  for (let i = 0; i < 2 * n; i += 2) {
    const cr = gliding ? (turns[i] as number) : 1;
    const ci = gliding ? (turns[i + 1] as number) : 0;
    e[i] = re * cr - im * ci;
    e[i + 1] = re * ci + im * cr;
    const next = re * zr - im * zi;
    im = re * zi + im * zr;
    re = next;
  }
}

function orthonormalise(k: number, K: number, n: number) {
  const own = q[k] as Float64Array;
  own.set((phi[k] as Float64Array).subarray(0, 2 * n));
  for (let m = 0; m < k; m++) {
    dot(q[m] as Float64Array, own, n);
    r[2 * (m * K + k)] = dotRe;
    r[2 * (m * K + k) + 1] = dotIm;
    subtract(own, q[m] as Float64Array, dotRe, dotIm, n);
  }
  dot(own, own, n);
  const norm = Math.sqrt(dotRe);
  // Two components at one pole: the second adds nothing and is left out.
  const scale = norm < COLLINEAR ? 0 : 1 / norm;
  r[2 * (k * K + k)] = scale === 0 ? 0 : norm;
  for (let i = 0; i < 2 * n; i++) own[i] = (own[i] as number) * scale;
}

/**
 * Products of the derivative columns, off the basis, and with the residual, at the point last projected here.
 * @param m X × X complex out, upper triangle. @param b X complex out. X = components, glide and ln rate.
 */
export function sampledProducts(
  band: BandSignal,
  K: number,
  glide: Glide,
  c: Float64Array,
  m: Float64Array,
  b: Float64Array,
) {
  const n = band.count;
  const X = K + 2;
  for (let k = 0; k < K; k++) layDerivative(band, k, c);
  layGlideDerivatives(band, K, glide);
  for (let i = 0; i < X; i++) {
    dot(x[i] as Float64Array, residual, n);
    b[2 * i] = dotRe;
    b[2 * i + 1] = dotIm;
    for (let k = 0; k < K; k++) {
      dot(q[k] as Float64Array, x[i] as Float64Array, n);
      onBasis[2 * (k * X + i)] = dotRe;
      onBasis[2 * (k * X + i) + 1] = dotIm;
    }
  }
  for (let i = 0; i < X; i++)
    for (let j = i; j < X; j++) {
      dot(x[i] as Float64Array, x[j] as Float64Array, n);
      let re = dotRe;
      let im = dotIm;
      for (let k = 0; k < K; k++) {
        const ar = onBasis[2 * (k * X + i)] as number;
        const ai = onBasis[2 * (k * X + i) + 1] as number;
        const br = onBasis[2 * (k * X + j)] as number;
        const bi = onBasis[2 * (k * X + j) + 1] as number;
        re -= ar * br + ai * bi;
        im -= ar * bi - ai * br;
      }
      m[2 * (i * X + j)] = re;
      m[2 * (i * X + j) + 1] = im;
    }
}

/** t·c·e of a component. */
function layDerivative({ rateHz, count }: BandSignal, k: number, c: Float64Array) {
  const e = phi[k] as Float64Array;
  const out = x[k] as Float64Array;
  const cr = c[2 * k] as number;
  const ci = c[2 * k + 1] as number;
  for (let i = 0; i < count; i++) {
    const t = i / rateHz;
    const re = e[2 * i] as number;
    const im = e[2 * i + 1] as number;
    out[2 * i] = t * (re * cr - im * ci);
    out[2 * i + 1] = t * (re * ci + im * cr);
  }
}

function layGlideDerivatives({ centreHz, rateHz, count }: BandSignal, K: number, { value, rate }: Glide) {
  const whole = 2 * Math.PI * centreHz;
  const byGlide = x[K] as Float64Array;
  const byRate = x[K + 1] as Float64Array;
  byGlide.fill(0, 0, 2);
  byRate.fill(0, 0, 2);
  for (let i = 1; i < count; i++) {
    const t = i / rateHz;
    const left = Math.exp(-rate * t);
    let re = 0;
    let im = 0;
    for (let k = 0; k < K; k++) {
      if (turned[k] === 0) continue;
      re += ((x[k] as Float64Array)[2 * i] as number) / t;
      im += ((x[k] as Float64Array)[2 * i + 1] as number) / t;
    }
    const grown = (1 - left) / rate;
    const bent = whole * value * (t * left - grown);
    byGlide[2 * i] = whole * grown * re;
    byGlide[2 * i + 1] = whole * grown * im;
    byRate[2 * i] = bent * re;
    byRate[2 * i + 1] = bent * im;
  }
}

let dotRe = 0;
let dotIm = 0;
/** aᴴb into `dotRe`, `dotIm`. */
function dot(a: Float64Array, b: Float64Array, n: number) {
  let re = 0;
  let im = 0;
  for (let i = 0; i < 2 * n; i += 2) {
    const ar = a[i] as number;
    const ai = a[i + 1] as number;
    const br = b[i] as number;
    const bi = b[i + 1] as number;
    re += ar * br + ai * bi;
    im += ar * bi - ai * br;
  }
  dotRe = re;
  dotIm = im;
}

/** a −= (re + j·im)·q. */
function subtract(a: Float64Array, b: Float64Array, re: number, im: number, n: number) {
  for (let i = 0; i < 2 * n; i += 2) {
    const qr = b[i] as number;
    const qi = b[i + 1] as number;
    a[i] = (a[i] as number) - (qr * re - qi * im);
    a[i + 1] = (a[i + 1] as number) - (qr * im + qi * re);
  }
}
