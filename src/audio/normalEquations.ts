import type { BandSignal } from './bandSignal.ts';
import { ATOMS, momentSums, pole, signalOn, sum, turned } from './closedSums.ts';
import { amplitude, glideAt, MOST, offBasis, type Point, sampled } from './dampedBasis.ts';
import { sampledProducts } from './sampledBasis.ts';
import type { Glide } from './undoGlide.ts';

/**
 * A derivative column as a sum of exponentials, Σ (one_a + i·ramp_a) e_a, over atoms `first` to `last`; interleaved. Its products
 * with each e_a and i·e_a, and those with the orthonormal basis.
 */
interface Column {
  readonly one: Float64Array;
  readonly ramp: Float64Array;
  first: number;
  last: number;
  readonly onOne: Float64Array;
  readonly onRamp: Float64Array;
  readonly onBasis: Float64Array;
}

// One problem at a time, as the projection.
const columns: readonly Column[] = Array.from({ length: MOST + 2 }, () => ({
  one: new Float64Array(2 * ATOMS),
  ramp: new Float64Array(2 * ATOMS),
  first: 0,
  last: 0,
  onOne: new Float64Array(2 * ATOMS),
  onRamp: new Float64Array(2 * ATOMS),
  onBasis: new Float64Array(2 * MOST),
}));
const between = new Float64Array(6 * ATOMS * ATOMS);
const onSignal = new Float64Array(4 * ATOMS);
const products = new Float64Array(2 * (MOST + 2) ** 2);
const onResidual = new Float64Array(2 * (MOST + 2));

/**
 * Normal matrix H = Re(JᴴJ) and right side b = −Re(Jᴴr) of the simplified (Kaufman) Jacobian at the point last projected.
 * A derivative by decay is E = t·c·e, by omega −jE, so one complex column serves both; those by the glide and ln rate are sums
 * over the gliding components and their twins, whose poles are e^(−rate·dt) times as large, because (1 − e^(−rate·t))·e is a
 * difference of two exponentials. The projection off the basis is taken from the inner products.
 * @param H square of the number of parameters, row-major. @param b as many; both may be longer than is used.
 * @source Kaufman 1975, BIT 15:49.
 */
export function normalEquations(band: BandSignal, at: Point, H: Float64Array, b: Float64Array) {
  const K = at.glides.length;
  const X = at.hasGlide ? K + 2 : K;
  if (sampled) sampledProducts(band, K, glideAt(at) as Glide, amplitude, products, onResidual);
  else closedProducts(band, at, K, X);
  realEquations(K, X, at.p.length, H, b);
}

function closedProducts(band: BandSignal, at: Point, K: number, X: number) {
  const A = layColumns(band, at);
  sumAtoms(A);
  for (let j = 0; j < X; j++) weighColumn(j, A, K);
  for (let i = 0; i < X; i++) for (let j = i; j < X; j++) multiplyColumns(i, j, X, K);
}

/** The columns as sums of exponentials. @returns number of atoms: the components, and a twin of each that glides. */
function layColumns(band: BandSignal, at: Point): number {
  const K = at.glides.length;
  const dt = 1 / band.rateHz;
  for (let k = 0; k < K; k++) {
    const { one, ramp } = openColumn(k, k, k + 1);
    one.fill(0, 2 * k, 2 * k + 2);
    ramp[2 * k] = dt * (amplitude[2 * k] as number);
    ramp[2 * k + 1] = dt * (amplitude[2 * k + 1] as number);
  }
  const glide = glideAt(at);
  return glide ? layGlide(glide, 2 * Math.PI * band.centreHz, dt, K) : K;
}

function openColumn(j: number, first: number, last: number): Column {
  const column = columns[j] as Column;
  column.first = first;
  column.last = last;
  return column;
}

function layGlide({ value, rate }: Glide, whole: number, dt: number, K: number): number {
  const byGlide = openColumn(K, 0, 2 * K);
  const byRate = openColumn(K + 1, 0, 2 * K);
  for (const { one, ramp } of [byGlide, byRate]) {
    one.fill(0, 0, 4 * K);
    ramp.fill(0, 0, 4 * K);
  }
  const fade = Math.exp(-rate * dt);
  let twin = K;
  for (let k = 0; k < K; k++) {
    if (turned[k] === 0) continue;
    turned[twin] = 1;
    for (let part = 0; part < 2; part++) {
      const u = 2 * k + part;
      const v = 2 * twin + part;
      const c = amplitude[u] as number;
      pole[v] = fade * (pole[u] as number);
      byGlide.one[u] = (whole / rate) * c;
      byGlide.one[v] = (-whole / rate) * c;
      byRate.one[u] = ((-whole * value) / rate) * c;
      byRate.one[v] = ((whole * value) / rate) * c;
      byRate.ramp[v] = whole * value * dt * c;
    }
    twin++;
  }
  byGlide.last = twin;
  byRate.last = twin;
  return twin;
}

/** Products of the atoms among themselves and with the signal. */
function sumAtoms(A: number) {
  for (let a = 0; a < A; a++) {
    for (let e = 0; e <= a; e++) {
      momentSums(a, e);
      const here = 6 * (a * ATOMS + e);
      const mirror = 6 * (e * ATOMS + a);
      for (let q = 0; q < 6; q += 2) {
        between[here + q] = sum[q] as number;
        between[mirror + q] = sum[q] as number;
        between[here + q + 1] = sum[q + 1] as number;
        between[mirror + q + 1] = -(sum[q + 1] as number);
      }
    }
    signalOn(a);
    for (let q = 0; q < 4; q++) onSignal[4 * a + q] = sum[q] as number;
  }
}

/** A column's products with the atoms, the basis and the residual. */
function weighColumn(j: number, A: number, K: number) {
  const { one, ramp, first, last, onOne, onRamp, onBasis } = columns[j] as Column;
  for (let a = 0; a < A; a++) {
    let r0 = 0;
    let i0 = 0;
    let r1 = 0;
    let i1 = 0;
    for (let e = first; e < last; e++) {
      const p = 6 * (a * ATOMS + e);
      const or = one[2 * e] as number;
      const oi = one[2 * e + 1] as number;
      const rr = ramp[2 * e] as number;
      const ri = ramp[2 * e + 1] as number;
      const s0 = between[p] as number;
      const t0 = between[p + 1] as number;
      const s1 = between[p + 2] as number;
      const t1 = between[p + 3] as number;
      const s2 = between[p + 4] as number;
      const t2 = between[p + 5] as number;
      r0 += s0 * or - t0 * oi + s1 * rr - t1 * ri;
      i0 += s0 * oi + t0 * or + s1 * ri + t1 * rr;
      r1 += s1 * or - t1 * oi + s2 * rr - t2 * ri;
      i1 += s1 * oi + t1 * or + s2 * ri + t2 * rr;
    }
    onOne[2 * a] = r0;
    onOne[2 * a + 1] = i0;
    onRamp[2 * a] = r1;
    onRamp[2 * a + 1] = i1;
  }
  // xᴴ(y − Φc)
  let re = 0;
  let im = 0;
  for (let a = first; a < last; a++) {
    const or = one[2 * a] as number;
    const oi = one[2 * a + 1] as number;
    const rr = ramp[2 * a] as number;
    const ri = ramp[2 * a + 1] as number;
    const yr = onSignal[4 * a] as number;
    const yi = onSignal[4 * a + 1] as number;
    const zr = onSignal[4 * a + 2] as number;
    const zi = onSignal[4 * a + 3] as number;
    re += or * yr + oi * yi + (rr * zr + ri * zi);
    im += or * yi - oi * yr + (rr * zi - ri * zr);
  }
  for (let k = 0; k < K; k++) {
    const fr = onOne[2 * k] as number;
    const fi = onOne[2 * k + 1] as number;
    const cr = amplitude[2 * k] as number;
    const ci = amplitude[2 * k + 1] as number;
    re -= cr * fr + ci * fi;
    im -= ci * fr - cr * fi;
    onBasis[2 * k] = fr;
    onBasis[2 * k + 1] = fi;
  }
  onResidual[2 * j] = re;
  onResidual[2 * j + 1] = im;
  offBasis(onBasis, K);
}

/** Product of two columns, off the basis. */
function multiplyColumns(i: number, j: number, X: number, K: number) {
  const x = columns[i] as Column;
  const y = columns[j] as Column;
  let re = 0;
  let im = 0;
  for (let a = x.first; a < x.last; a++) {
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
    const ur = x.onBasis[2 * k] as number;
    const ui = x.onBasis[2 * k + 1] as number;
    const vr = y.onBasis[2 * k] as number;
    const vi = y.onBasis[2 * k + 1] as number;
    re -= ur * vr + ui * vi;
    im -= ur * vi - ui * vr;
  }
  products[2 * (i * X + j)] = re;
  products[2 * (i * X + j) + 1] = im;
}

/** Parameter u belongs to one column; its derivative is the column itself (decay) or −j times it (all others). */
function realEquations(K: number, X: number, P: number, H: Float64Array, b: Float64Array) {
  for (let u = 0; u < P; u++) {
    const cu = u < 2 * K ? u >> 1 : u - K;
    const plainU = u < 2 * K && (u & 1) === 1;
    for (let v = u; v < P; v++) {
      const cv = v < 2 * K ? v >> 1 : v - K;
      const plainV = v < 2 * K && (v & 1) === 1;
      const re = products[2 * (cu * X + cv)] as number;
      const im = products[2 * (cu * X + cv) + 1] as number;
      const value = plainU === plainV ? re : plainU ? im : -im;
      H[u * P + v] = value;
      H[v * P + u] = value;
    }
    b[u] = plainU ? -(onResidual[2 * cu] as number) : (onResidual[2 * cu + 1] as number);
  }
}
