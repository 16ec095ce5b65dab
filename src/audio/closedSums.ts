/** Most exponentials of one problem. */
export const ATOMS = 16;

// One problem at a time: a fit runs hundreds of times and allocates nothing here.
/** Poles, interleaved: z_a is the factor of exponential a from one sample to the next. */
export const pole = new Float64Array(2 * ATOMS);
/** 1 where an exponential e_a is turned by the glide too, h_i·z_a^i; otherwise it is z_a^i. */
export const turned = new Uint8Array(ATOMS);
/** Where the sums are given back, interleaved. */
export const sum = new Float64Array(6);

/** A signal of complex samples, as it is and with the glide undone, and the glide's phasor; all interleaved. */
export interface Series {
  readonly count: number;
  readonly samples: Float64Array;
  /** conj(h_i) y_i. */
  readonly undone: Float64Array;
  /** h_i. */
  readonly turns: Float64Array;
}
const NOTHING = new Float64Array(0);
let series: Series = { count: 0, samples: NOTHING, undone: NOTHING, turns: NOTHING };

/** Begins a problem. Poles and turns are to be set before sums are asked for. */
export function openSums(of: Series) {
  series = of;
}

/** Σ conj(e_a) e_b into the first of `sum`. */
export function plainSum(a: number, b: number) {
  const wr = realPart(a, b);
  const wi = imaginaryPart(a, b);
  if (turned[a] === turned[b]) geometricSum(wr, wi);
  else if (turned[b]) powerSum(series.turns, wr, wi);
  else {
    powerSum(series.turns, wr, -wi);
    sum[1] = -(sum[1] as number);
  }
}

/** Σ conj(e_a) e_b times 1, i and i² into `sum`. */
export function momentSums(a: number, b: number) {
  const wr = realPart(a, b);
  const wi = imaginaryPart(a, b);
  if (turned[a] === turned[b]) geometricMoments(wr, wi);
  else if (turned[b]) powerMoments(series.turns, wr, wi);
  else {
    powerMoments(series.turns, wr, -wi);
    for (let q = 1; q < 6; q += 2) sum[q] = -(sum[q] as number);
  }
}

/** Σ conj(e_a) y into the first of `sum`. */
export function plainSignalOn(a: number) {
  powerSum(signalFor(a), pole[2 * a] as number, -(pole[2 * a + 1] as number));
}

/** Σ conj(e_a) y times 1 and i into `sum`. */
export function signalOn(a: number) {
  powerRamp(signalFor(a), pole[2 * a] as number, -(pole[2 * a + 1] as number));
}

const signalFor = (a: number) => (turned[a] ? series.undone : series.samples);

/** Of conj(z_a) z_b. */
const realPart = (a: number, b: number) =>
  (pole[2 * a] as number) * (pole[2 * b] as number) + (pole[2 * a + 1] as number) * (pole[2 * b + 1] as number);
const imaginaryPart = (a: number, b: number) =>
  (pole[2 * a] as number) * (pole[2 * b + 1] as number) - (pole[2 * a + 1] as number) * (pole[2 * b] as number);

/** Σ w^i by doubling: Σ_{i<2m} = Σ_{i<m} + w^m Σ_{i<m}. */
function geometricSum(wr: number, wi: number) {
  const { count } = series;
  let pr = 1;
  let pi = 0;
  let sr = 0;
  let si = 0;
  for (let bit = 31 - Math.clz32(count); bit >= 0; bit--) {
    const tr = sr + pr * sr - pi * si;
    si = si + pr * si + pi * sr;
    sr = tr;
    const qr = pr * pr - pi * pi;
    pi = 2 * pr * pi;
    pr = qr;
    if ((count >> bit) & 1) {
      sr += pr;
      si += pi;
      const nr = pr * wr - pi * wi;
      pi = pr * wi + pi * wr;
      pr = nr;
    }
  }
  sum[0] = sr;
  sum[1] = si;
}

/** Σ w^i times 1, i and i², by doubling. */
function geometricMoments(wr: number, wi: number) {
  const { count } = series;
  let m = 0;
  let pr = 1;
  let pi = 0;
  let ar = 0;
  let ai = 0;
  let br = 0;
  let bi = 0;
  let cr = 0;
  let ci = 0;
  for (let bit = 31 - Math.clz32(count); bit >= 0; bit--) {
    // The second half of twice as many terms: (i + m)^k w^(i + m).
    const dr = br + m * ar;
    const di = bi + m * ai;
    const er = cr + m * (2 * br + m * ar);
    const ei = ci + m * (2 * bi + m * ai);
    const hr = ar;
    const hi = ai;
    ar += pr * hr - pi * hi;
    ai += pr * hi + pi * hr;
    br += pr * dr - pi * di;
    bi += pr * di + pi * dr;
    cr += pr * er - pi * ei;
    ci += pr * ei + pi * er;
    const qr = pr * pr - pi * pi;
    pi = 2 * pr * pi;
    pr = qr;
    m *= 2;
    if ((count >> bit) & 1) {
      ar += pr;
      ai += pi;
      br += m * pr;
      bi += m * pi;
      cr += m * m * pr;
      ci += m * m * pi;
      const nr = pr * wr - pi * wi;
      pi = pr * wi + pi * wr;
      pr = nr;
      m++;
    }
  }
  sum[0] = ar;
  sum[1] = ai;
  sum[2] = br;
  sum[3] = bi;
  sum[4] = cr;
  sum[5] = ci;
}

/**
 * Σ w^i s_i by Horner's rule in two lanes: the even samples and the odd ones, with w² each, so that one lane need not wait for the
 * other's last step.
 */
function powerSum(s: Float64Array, wr: number, wi: number) {
  const { count } = series;
  const qr = wr * wr - wi * wi;
  const qi = 2 * wr * wi;
  let er = 0;
  let ei = 0;
  let or = 0;
  let oi = 0;
  let i = 2 * count - 2;
  // With an odd count the last sample is an even one.
  if ((count & 1) === 1) {
    er = s[i] as number;
    ei = s[i + 1] as number;
    i -= 2;
  }
  for (; i > 0; i -= 4) {
    const tr = or * qr - oi * qi + (s[i] as number);
    oi = or * qi + oi * qr + (s[i + 1] as number);
    or = tr;
    const ur = er * qr - ei * qi + (s[i - 2] as number);
    ei = er * qi + ei * qr + (s[i - 1] as number);
    er = ur;
  }
  sum[0] = er + or * wr - oi * wi;
  sum[1] = ei + or * wi + oi * wr;
}

/** Σ w^i s_i times 1 and i, in the same lanes: of each a polynomial in w² and its derivative. */
function powerRamp(s: Float64Array, wr: number, wi: number) {
  const { count } = series;
  const qr = wr * wr - wi * wi;
  const qi = 2 * wr * wi;
  let er = 0;
  let ei = 0;
  let or = 0;
  let oi = 0;
  let fr = 0;
  let fi = 0;
  let pr = 0;
  let pi = 0;
  let i = 2 * count - 2;
  if ((count & 1) === 1) {
    er = s[i] as number;
    ei = s[i + 1] as number;
    i -= 2;
  }
  for (; i > 0; i -= 4) {
    const vr = pr * qr - pi * qi + or;
    pi = pr * qi + pi * qr + oi;
    pr = vr;
    const tr = or * qr - oi * qi + (s[i] as number);
    oi = or * qi + oi * qr + (s[i + 1] as number);
    or = tr;
    const xr = fr * qr - fi * qi + er;
    fi = fr * qi + fi * qr + ei;
    fr = xr;
    const ur = er * qr - ei * qi + (s[i - 2] as number);
    ei = er * qi + ei * qr + (s[i - 1] as number);
    er = ur;
  }
  const oddR = or * wr - oi * wi;
  const oddI = or * wi + oi * wr;
  sum[0] = er + oddR;
  sum[1] = ei + oddI;
  // i is twice the power of w², and one more in the odd lane.
  const rampR = fr + pr * wr - pi * wi;
  const rampI = fi + pr * wi + pi * wr;
  sum[2] = 2 * (rampR * qr - rampI * qi) + oddR;
  sum[3] = 2 * (rampR * qi + rampI * qr) + oddI;
}

/** Σ w^i s_i times 1, i and i²: with half the second derivative too, as i² = i(i − 1) + i. */
function powerMoments(s: Float64Array, wr: number, wi: number) {
  let re = 0;
  let im = 0;
  let dr = 0;
  let di = 0;
  let hr = 0;
  let hi = 0;
  for (let i = 2 * series.count - 2; i >= 0; i -= 2) {
    const vr = hr * wr - hi * wi + dr;
    hi = hr * wi + hi * wr + di;
    hr = vr;
    const tr = dr * wr - di * wi + re;
    di = dr * wi + di * wr + im;
    dr = tr;
    const ur = re * wr - im * wi + (s[i] as number);
    im = re * wi + im * wr + (s[i + 1] as number);
    re = ur;
  }
  const sr = dr + 2 * (hr * wr - hi * wi);
  const si = di + 2 * (hr * wi + hi * wr);
  sum[0] = re;
  sum[1] = im;
  sum[2] = dr * wr - di * wi;
  sum[3] = dr * wi + di * wr;
  sum[4] = sr * wr - si * wi;
  sum[5] = sr * wi + si * wr;
}
