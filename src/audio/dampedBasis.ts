import type { BandSignal } from './bandSignal.ts';
import { glidePhasor } from './glidePhasor.ts';
import { projectPure, pureProducts } from './purePoles.ts';
import type { Workspace } from './workspace.ts';

/** Norm of a component's part that is new, below which it counts as nothing; a component starts at amplitude 1. */
const COLLINEAR = 1e-5;

/** Poles and glide: (omega, decay) of each component, then glide and ln rate where `hasGlide`. */
export interface Point {
  readonly p: Float64Array;
  readonly glides: readonly boolean[];
  readonly hasGlide: boolean;
}

/**
 * Basis, amplitudes and residual at a point.
 * A gliding component is exp((−decay + j·omega)t + j·2π·centre·g·(1−e^(−rate·t))/rate); the amplitudes come by
 * orthonormalisation (modified Gram–Schmidt) and back substitution.
 */
export function project(band: BandSignal, at: Point, w: Workspace, withResidual = false) {
  const { K, count: n } = w;
  w.pure = isPure(at);
  if (at.hasGlide) glidePhasor(band, at.p[2 * K] as number, Math.exp(at.p[2 * K + 1] as number), w);
  if (w.pure) {
    w.rss = projectPure(band, at, w.chirp, w.c);
    if (withResidual) subtractPure(band, at, w);
    return;
  }
  const dt = 1 / band.rateHz;
  for (let k = 0; k < K; k++) {
    const omega = at.p[2 * k] as number;
    const fall = Math.exp(-(at.p[2 * k + 1] as number) * dt);
    const zr = fall * Math.cos(omega * dt);
    const zi = fall * Math.sin(omega * dt);
    const phi = w.phi[k] as Float64Array;
    const gliding = at.hasGlide && at.glides[k] === true;
    let re = 1;
    let im = 0;
    for (let i = 0; i < 2 * n; i += 2) {
      if (gliding) {
        const cr = w.chirp[i] as number;
        const ci = w.chirp[i + 1] as number;
        phi[i] = re * cr - im * ci;
        phi[i + 1] = re * ci + im * cr;
      } else {
        phi[i] = re;
        phi[i + 1] = im;
      }
      const next = re * zr - im * zi;
      im = re * zi + im * zr;
      re = next;
    }
  }
  orthonormalise(w);
  const res = w.residual;
  for (let i = 0; i < 2 * n; i++) res[i] = band.samples[i] as number;
  for (let k = 0; k < K; k++) {
    const q = w.q[k] as Float64Array;
    dot(q, res, n);
    const re = dotRe;
    const im = dotIm;
    w.c[2 * k] = re;
    w.c[2 * k + 1] = im;
    subtract(res, q, re, im, n);
  }
  for (let k = K - 1; k >= 0; k--) {
    let re = w.c[2 * k] as number;
    let im = w.c[2 * k + 1] as number;
    for (let m = k + 1; m < K; m++) {
      const rr = w.r[2 * (k * K + m)] as number;
      const ri = w.r[2 * (k * K + m) + 1] as number;
      const cr = w.c[2 * m] as number;
      const ci = w.c[2 * m + 1] as number;
      re -= rr * cr - ri * ci;
      im -= rr * ci + ri * cr;
    }
    const d = w.r[2 * (k * K + k)] as number;
    w.c[2 * k] = d > 0 ? re / d : 0;
    w.c[2 * k + 1] = d > 0 ? im / d : 0;
  }
  let rss = 0;
  for (let i = 0; i < 2 * n; i++) rss += (res[i] as number) * (res[i] as number);
  w.rss = rss;
}

/** All components glide, or none does: then sums over the samples are known in closed form. */
const isPure = (at: Point) => !at.hasGlide || at.glides.every((g) => g);

/** The residual where all components glide alike, or none does: the signal less the components at the amplitudes just found. */
function subtractPure(band: BandSignal, at: Point, w: Workspace) {
  const { K, count: n, residual, chirp } = w;
  const dt = 1 / band.rateHz;
  residual.fill(0, 0, 2 * n);
  for (let k = 0; k < K; k++) {
    const fall = Math.exp(-(at.p[2 * k + 1] as number) * dt);
    const zr = fall * Math.cos((at.p[2 * k] as number) * dt);
    const zi = fall * Math.sin((at.p[2 * k] as number) * dt);
    let re = w.c[2 * k] as number;
    let im = w.c[2 * k + 1] as number;
    for (let i = 0; i < 2 * n; i += 2) {
      residual[i] = (residual[i] as number) + re;
      residual[i + 1] = (residual[i + 1] as number) + im;
      const next = re * zr - im * zi;
      im = re * zi + im * zr;
      re = next;
    }
  }
  for (let i = 0; i < 2 * n; i += 2) {
    const re = residual[i] as number;
    const im = residual[i + 1] as number;
    const cr = at.hasGlide ? (chirp[i] as number) : 1;
    const ci = at.hasGlide ? (chirp[i + 1] as number) : 0;
    residual[i] = (band.samples[i] as number) - (re * cr - im * ci);
    residual[i + 1] = (band.samples[i + 1] as number) - (re * ci + im * cr);
  }
}

function orthonormalise(w: Workspace) {
  const { K, count: n } = w;
  for (let k = 0; k < K; k++) {
    const q = w.q[k] as Float64Array;
    const phi = w.phi[k] as Float64Array;
    for (let i = 0; i < 2 * n; i++) q[i] = phi[i] as number;
    for (let m = 0; m < k; m++) {
      const other = w.q[m] as Float64Array;
      dot(other, q, n);
      const re = dotRe;
      const im = dotIm;
      w.r[2 * (m * K + k)] = re;
      w.r[2 * (m * K + k) + 1] = im;
      subtract(q, other, re, im, n);
    }
    let norm = 0;
    for (let i = 0; i < 2 * n; i++) norm += (q[i] as number) * (q[i] as number);
    norm = Math.sqrt(norm);
    // Two components at one pole: the second adds nothing and is left out.
    if (norm < COLLINEAR) norm = 0;
    w.r[2 * (k * K + k)] = norm;
    const scale = norm > 0 ? 1 / norm : 0;
    for (let i = 0; i < 2 * n; i++) q[i] = (q[i] as number) * scale;
  }
}

/** Most columns: components, glide and ln rate. */
const MOST_COLUMNS = 12;
const products = new Float64Array(2 * MOST_COLUMNS * MOST_COLUMNS);
const onResidual = new Float64Array(2 * MOST_COLUMNS);
const onBasis = new Float64Array(2 * MOST_COLUMNS * MOST_COLUMNS);

/**
 * Normal matrix H = Re(JᴴJ) and right side b = −Re(Jᴴr) of the simplified (Kaufman) Jacobian at the point last projected.
 * A derivative by decay is E = t·c·phi, by omega −jE, so one complex column serves both; the projection off the basis is
 * taken from the inner products instead of from the columns.
 * @param H square of the number of parameters, row-major. @param b as many.
 */
export function normalEquations(band: BandSignal, at: Point, w: Workspace, H: Float64Array, b: Float64Array) {
  const { K } = w;
  const X = K + (at.hasGlide ? 2 : 0);
  const P = 2 * K + (at.hasGlide ? 2 : 0);
  const m = products;
  const r = onResidual;
  if (w.pure) pureProducts(band, at, w.c, m, r);
  else sampledProducts(band, at, w, m, r);
  // Parameter u belongs to column col(u); its derivative is the column itself (decay) or −j times it (all others).
  for (let u = 0; u < P; u++) {
    const cu = u < 2 * K ? u >> 1 : u - K;
    const plainU = u < 2 * K && (u & 1) === 1;
    for (let v = u; v < P; v++) {
      const cv = v < 2 * K ? v >> 1 : v - K;
      const plainV = v < 2 * K && (v & 1) === 1;
      const re = m[2 * (cu * X + cv)] as number;
      const im = m[2 * (cu * X + cv) + 1] as number;
      const value = plainU === plainV ? re : plainU ? im : -im;
      H[u * P + v] = value;
      H[v * P + u] = value;
    }
    b[u] = plainU ? -(r[2 * cu] as number) : (r[2 * cu + 1] as number);
  }
}

/** Products of the derivative columns, off the basis, and with the residual, sample by sample. */
function sampledProducts(band: BandSignal, at: Point, w: Workspace, m: Float64Array, r: Float64Array) {
  const { K, count: n } = w;
  const X = K + (at.hasGlide ? 2 : 0);
  derivatives(band, at, w);
  for (let i = 0; i < X; i++) {
    dot(w.x[i] as Float64Array, w.residual, n);
    r[2 * i] = dotRe;
    r[2 * i + 1] = dotIm;
  }
  for (let i = 0; i < X; i++)
    for (let k = 0; k < K; k++) {
      dot(w.q[k] as Float64Array, w.x[i] as Float64Array, n);
      onBasis[2 * (k * X + i)] = dotRe;
      onBasis[2 * (k * X + i) + 1] = dotIm;
    }
  for (let i = 0; i < X; i++)
    for (let j = i; j < X; j++) {
      dot(w.x[i] as Float64Array, w.x[j] as Float64Array, n);
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

function derivatives(band: BandSignal, at: Point, w: Workspace) {
  const { K, count: n } = w;
  const dt = 1 / band.rateHz;
  for (let k = 0; k < K; k++) {
    const phi = w.phi[k] as Float64Array;
    const x = w.x[k] as Float64Array;
    const cr = w.c[2 * k] as number;
    const ci = w.c[2 * k + 1] as number;
    for (let i = 0; i < n; i++) {
      const t = i * dt;
      const pr = phi[2 * i] as number;
      const pi = phi[2 * i + 1] as number;
      x[2 * i] = t * (pr * cr - pi * ci);
      x[2 * i + 1] = t * (pr * ci + pi * cr);
    }
  }
  if (!at.hasGlide) return;
  const glide = at.p[2 * K] as number;
  const rate = Math.exp(at.p[2 * K + 1] as number);
  const whole = 2 * Math.PI * band.centreHz;
  const xg = w.x[K] as Float64Array;
  const xr = w.x[K + 1] as Float64Array;
  const shrink = Math.exp(-rate * dt);
  let left = 1;
  xg.fill(0, 0, 2);
  xr.fill(0, 0, 2);
  for (let i = 1; i < n; i++) {
    const t = i * dt;
    left *= shrink;
    let re = 0;
    let im = 0;
    for (let k = 0; k < K; k++) {
      if (!at.glides[k]) continue;
      const x = w.x[k] as Float64Array;
      re += (x[2 * i] as number) / t;
      im += (x[2 * i + 1] as number) / t;
    }
    const grown = (1 - left) / rate;
    const byGlide = whole * grown;
    const byRate = whole * glide * (t * left - grown);
    xg[2 * i] = byGlide * re;
    xg[2 * i + 1] = byGlide * im;
    xr[2 * i] = byRate * re;
    xr[2 * i + 1] = byRate * im;
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
function subtract(a: Float64Array, q: Float64Array, re: number, im: number, n: number) {
  for (let i = 0; i < 2 * n; i += 2) {
    const qr = q[i] as number;
    const qi = q[i + 1] as number;
    a[i] = (a[i] as number) - (qr * re - qi * im);
    a[i + 1] = (a[i + 1] as number) - (qr * im + qi * re);
  }
}
