import type { BandSignal } from './bandSignal.ts';
import { ATOMS, momentSums, openSums, plainSignalOn, plainSum, pole, signalOn, sum } from './closedSums.ts';

/** Most components of one problem; each may have a glided twin. */
const MOST = ATOMS / 2;
/** Squared norm of a component's part that is new, below which it counts as nothing; a component starts at amplitude 1. */
const COLLINEAR2 = 1e-10;

// One problem at a time: the state of the last projection, used by the normal equations.
const lower = new Float64Array(2 * MOST * MOST);
const onBasis = new Float64Array(2 * MOST);
let components = 0;

/** Poles and glide where all components glide, or none. */
export interface PurePoint {
  /** (omega, decay) of each component, then glide and ln rate where it glides. */
  readonly p: Float64Array;
  readonly hasGlide: boolean;
}

/**
 * Amplitudes and residual energy where all components glide alike, or none does.
 * The glide's phasor is taken off the signal; what is left are plain damped exponentials, whose inner products are geometric
 * sums, so only the products with the signal run over its samples.
 * @param chirp phasor of the glide, interleaved. @param c amplitudes out, interleaved.
 * @returns energy that the components leave.
 * @source Golub and Pereyra 1973 (projection); the sums by doubling, Σ_{i<2m} = Σ_{i<m} + w^m Σ_{i<m}.
 */
export function projectPure(band: BandSignal, at: PurePoint, chirp: Float64Array, c: Float64Array): number {
  const n = band.count;
  const K = at.hasGlide ? at.p.length / 2 - 1 : at.p.length / 2;
  components = K;
  const data = openSums(n);
  let energy = 0;
  const from = band.samples;
  for (let i = 0; i < 2 * n; i += 2) {
    const re = from[i] as number;
    const im = from[i + 1] as number;
    energy += re * re + im * im;
    if (at.hasGlide) {
      const cr = chirp[i] as number;
      const ci = chirp[i + 1] as number;
      data[i] = re * cr + im * ci;
      data[i + 1] = im * cr - re * ci;
    } else {
      data[i] = re;
      data[i + 1] = im;
    }
  }
  const dt = 1 / band.rateHz;
  for (let k = 0; k < K; k++) {
    const fall = Math.exp(-(at.p[2 * k + 1] as number) * dt);
    const turn = (at.p[2 * k] as number) * dt;
    pole[2 * k] = fall * Math.cos(turn);
    pole[2 * k + 1] = fall * Math.sin(turn);
  }
  let left = energy;
  // Cholesky of the Gram matrix, and the signal on the orthonormal basis.
  for (let k = 0; k < K; k++) {
    for (let j = 0; j <= k; j++) {
      plainSum(k, j);
      let re = sum[0] as number;
      let im = sum[1] as number;
      for (let m = 0; m < j; m++) {
        const ar = lower[2 * (k * MOST + m)] as number;
        const ai = lower[2 * (k * MOST + m) + 1] as number;
        const br = lower[2 * (j * MOST + m)] as number;
        const bi = lower[2 * (j * MOST + m) + 1] as number;
        re -= ar * br + ai * bi;
        im -= ai * br - ar * bi;
      }
      const at2 = 2 * (k * MOST + j);
      if (j === k) {
        lower[at2] = re > COLLINEAR2 ? Math.sqrt(re) : 0;
        lower[at2 + 1] = 0;
      } else {
        const d = lower[2 * (j * MOST + j)] as number;
        lower[at2] = d > 0 ? re / d : 0;
        lower[at2 + 1] = d > 0 ? im / d : 0;
      }
    }
    plainSignalOn(k);
    onBasis[2 * k] = sum[0] as number;
    onBasis[2 * k + 1] = sum[1] as number;
  }
  forward(onBasis, K);
  for (let k = 0; k < K; k++) left -= (onBasis[2 * k] as number) ** 2 + (onBasis[2 * k + 1] as number) ** 2;
  for (let k = K - 1; k >= 0; k--) {
    let re = onBasis[2 * k] as number;
    let im = onBasis[2 * k + 1] as number;
    for (let m = k + 1; m < K; m++) {
      const lr = lower[2 * (m * MOST + k)] as number;
      const li = lower[2 * (m * MOST + k) + 1] as number;
      const cr = c[2 * m] as number;
      const ci = c[2 * m + 1] as number;
      re -= lr * cr + li * ci;
      im -= lr * ci - li * cr;
    }
    const d = lower[2 * (k * MOST + k)] as number;
    c[2 * k] = d > 0 ? re / d : 0;
    c[2 * k + 1] = d > 0 ? im / d : 0;
  }
  return Math.max(left, 1e-15 * energy);
}

/** L u = v in place; a component that adds nothing takes nothing. */
function forward(v: Float64Array, K: number) {
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

// Columns as sums of exponentials: coefficient of 1 and of i for each, and their products with 1·e and i·e.
const columns = Array.from({ length: MOST + 2 }, () => ({
  one: new Float64Array(2 * ATOMS),
  ramp: new Float64Array(2 * ATOMS),
  onOne: new Float64Array(2 * ATOMS),
  onRamp: new Float64Array(2 * ATOMS),
  basis: new Float64Array(2 * MOST),
}));
const products = new Float64Array(6 * ATOMS * ATOMS);
const onData = new Float64Array(4 * ATOMS);

/**
 * Products of the derivative columns, off the basis, and with the residual, at the point last projected.
 * A column of a component is t·c·e; those of the glide and of ln rate are sums over the components and their twins of the
 * pole times e^(−rate·dt), because (1 − e^(−rate·t))·e is a difference of two exponentials.
 * @param m X×X complex out, upper triangle. @param b X complex out. X = components, and two more with a glide.
 */
export function pureProducts(band: BandSignal, at: PurePoint, c: Float64Array, m: Float64Array, b: Float64Array) {
  const K = components;
  const dt = 1 / band.rateHz;
  const A = at.hasGlide ? 2 * K : K;
  const X = at.hasGlide ? K + 2 : K;
  for (let j = 0; j < X; j++) {
    const { one, ramp } = columns[j] as (typeof columns)[number];
    one.fill(0, 0, 2 * A);
    ramp.fill(0, 0, 2 * A);
    if (j < K) {
      ramp[2 * j] = dt * (c[2 * j] as number);
      ramp[2 * j + 1] = dt * (c[2 * j + 1] as number);
    }
  }
  if (at.hasGlide) {
    const glide = at.p[2 * K] as number;
    const rate = Math.exp(at.p[2 * K + 1] as number);
    const whole = 2 * Math.PI * band.centreHz;
    const fade = Math.exp(-rate * dt);
    const g = columns[K] as (typeof columns)[number];
    const r = columns[K + 1] as (typeof columns)[number];
    for (let u = 0; u < 2 * K; u++) {
      const v = c[u] as number;
      pole[2 * K + u] = fade * (pole[u] as number);
      g.one[u] = (whole / rate) * v;
      g.one[2 * K + u] = (-whole / rate) * v;
      r.one[u] = ((-whole * glide) / rate) * v;
      r.one[2 * K + u] = ((whole * glide) / rate) * v;
      r.ramp[2 * K + u] = whole * glide * dt * v;
    }
  }
  for (let a = 0; a < A; a++) {
    for (let e = 0; e <= a; e++) {
      momentSums(a, e);
      for (let q = 0; q < 6; q++) {
        products[6 * (a * ATOMS + e) + q] = sum[q] as number;
        products[6 * (e * ATOMS + a) + q] = (q & 1) === 1 ? -(sum[q] as number) : (sum[q] as number);
      }
    }
    signalOn(a);
    for (let q = 0; q < 4; q++) onData[4 * a + q] = sum[q] as number;
  }
  for (let j = 0; j < X; j++) {
    const col = columns[j] as (typeof columns)[number];
    for (let a = 0; a < A; a++) {
      let r0 = 0;
      let i0 = 0;
      let r1 = 0;
      let i1 = 0;
      const first = j < K ? j : 0;
      const last = j < K ? j + 1 : A;
      for (let e = first; e < last; e++) {
        const p = 6 * (a * ATOMS + e);
        const or = col.one[2 * e] as number;
        const oi = col.one[2 * e + 1] as number;
        const rr = col.ramp[2 * e] as number;
        const ri = col.ramp[2 * e + 1] as number;
        const s0 = products[p] as number;
        const t0 = products[p + 1] as number;
        const s1 = products[p + 2] as number;
        const t1 = products[p + 3] as number;
        const s2 = products[p + 4] as number;
        const t2 = products[p + 5] as number;
        r0 += s0 * or - t0 * oi + s1 * rr - t1 * ri;
        i0 += s0 * oi + t0 * or + s1 * ri + t1 * rr;
        r1 += s1 * or - t1 * oi + s2 * rr - t2 * ri;
        i1 += s1 * oi + t1 * or + s2 * ri + t2 * rr;
      }
      col.onOne[2 * a] = r0;
      col.onOne[2 * a + 1] = i0;
      col.onRamp[2 * a] = r1;
      col.onRamp[2 * a + 1] = i1;
    }
    // xᴴ(y − Φc)
    let re = 0;
    let im = 0;
    for (let a = j < K ? j : 0; a < (j < K ? j + 1 : A); a++) {
      const or = col.one[2 * a] as number;
      const oi = col.one[2 * a + 1] as number;
      const rr = col.ramp[2 * a] as number;
      const ri = col.ramp[2 * a + 1] as number;
      const d = 4 * a;
      re += or * (onData[d] as number) + oi * (onData[d + 1] as number);
      im += or * (onData[d + 1] as number) - oi * (onData[d] as number);
      re += rr * (onData[d + 2] as number) + ri * (onData[d + 3] as number);
      im += rr * (onData[d + 3] as number) - ri * (onData[d + 2] as number);
    }
    for (let k = 0; k < K; k++) {
      const fr = col.onOne[2 * k] as number;
      const fi = col.onOne[2 * k + 1] as number;
      const cr = c[2 * k] as number;
      const ci = c[2 * k + 1] as number;
      re -= cr * fr + ci * fi;
      im -= ci * fr - cr * fi;
      col.basis[2 * k] = fr;
      col.basis[2 * k + 1] = fi;
    }
    b[2 * j] = re;
    b[2 * j + 1] = im;
    forward(col.basis, K);
  }
  for (let i = 0; i < X; i++)
    for (let j = i; j < X; j++) {
      const x = columns[i] as (typeof columns)[number];
      const y = columns[j] as (typeof columns)[number];
      let re = 0;
      let im = 0;
      for (let a = i < K ? i : 0; a < (i < K ? i + 1 : A); a++) {
        const or = x.one[2 * a] as number;
        const oi = x.one[2 * a + 1] as number;
        const rr = x.ramp[2 * a] as number;
        const ri = x.ramp[2 * a + 1] as number;
        const pr = y.onOne[2 * a] as number;
        const pi = y.onOne[2 * a + 1] as number;
        const qr = y.onRamp[2 * a] as number;
        const qi = y.onRamp[2 * a + 1] as number;
        re += or * pr + oi * pi + rr * qr + ri * qi;
        im += or * pi - oi * pr + rr * qi - ri * qr;
      }
      for (let k = 0; k < K; k++) {
        const ur = x.basis[2 * k] as number;
        const ui = x.basis[2 * k + 1] as number;
        const vr = y.basis[2 * k] as number;
        const vi = y.basis[2 * k + 1] as number;
        re -= ur * vr + ui * vi;
        im -= ur * vi - ui * vr;
      }
      m[2 * (i * X + j)] = re;
      m[2 * (i * X + j) + 1] = im;
    }
}
