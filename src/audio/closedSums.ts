/** Most exponentials of one problem. */
export const ATOMS = 16;

// One problem at a time: a fit runs hundreds of times and allocates nothing here.
/** Poles, interleaved: z_a is the factor of exponential a from one sample to the next. */
export const pole = new Float64Array(2 * ATOMS);
/** Where the sums are given back, interleaved. */
export const sum = new Float64Array(6);
let data = new Float64Array(0);
let samples = 0;

/** Begins a problem of `count` complex samples; the signal is to be written into the array returned, interleaved. */
export function openSums(count: number): Float64Array {
  samples = count;
  if (data.length < 2 * count) data = new Float64Array(2 * count);
  return data;
}

/** Σ conj(z_a)^i z_b^i into the first of `sum`. */
export function plainSum(a: number, b: number) {
  const wr =
    (pole[2 * a] as number) * (pole[2 * b] as number) + (pole[2 * a + 1] as number) * (pole[2 * b + 1] as number);
  const wi =
    (pole[2 * a] as number) * (pole[2 * b + 1] as number) - (pole[2 * a + 1] as number) * (pole[2 * b] as number);
  let pr = 1;
  let pi = 0;
  let sr = 0;
  let si = 0;
  for (let bit = 31 - Math.clz32(samples); bit >= 0; bit--) {
    const tr = sr + pr * sr - pi * si;
    si = si + pr * si + pi * sr;
    sr = tr;
    const qr = pr * pr - pi * pi;
    pi = 2 * pr * pi;
    pr = qr;
    if ((samples >> bit) & 1) {
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

/** Σ conj(z_a)^i z_b^i times 1, i and i² into `sum`. */
export function momentSums(a: number, b: number) {
  const wr =
    (pole[2 * a] as number) * (pole[2 * b] as number) + (pole[2 * a + 1] as number) * (pole[2 * b + 1] as number);
  const wi =
    (pole[2 * a] as number) * (pole[2 * b + 1] as number) - (pole[2 * a + 1] as number) * (pole[2 * b] as number);
  let m = 0;
  let pr = 1;
  let pi = 0;
  let ar = 0;
  let ai = 0;
  let br = 0;
  let bi = 0;
  let cr = 0;
  let ci = 0;
  for (let bit = 31 - Math.clz32(samples); bit >= 0; bit--) {
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
    if ((samples >> bit) & 1) {
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
 * Σ conj(z)^i y_i into the first of `sum`, by Horner's rule in two lanes: the even samples and the odd ones, with z² each, so that
 * one lane need not wait for the other's last step.
 */
export function plainSignalOn(a: number) {
  const zr = pole[2 * a] as number;
  const zi = -(pole[2 * a + 1] as number);
  const qr = zr * zr - zi * zi;
  const qi = 2 * zr * zi;
  let er = 0;
  let ei = 0;
  let or = 0;
  let oi = 0;
  let i = 2 * samples - 2;
  // With an odd count the last sample is an even one.
  if ((samples & 1) === 1) {
    er = data[i] as number;
    ei = data[i + 1] as number;
    i -= 2;
  }
  for (; i > 0; i -= 4) {
    const tr = or * qr - oi * qi + (data[i] as number);
    oi = or * qi + oi * qr + (data[i + 1] as number);
    or = tr;
    const ur = er * qr - ei * qi + (data[i - 2] as number);
    ei = er * qi + ei * qr + (data[i - 1] as number);
    er = ur;
  }
  sum[0] = er + or * zr - oi * zi;
  sum[1] = ei + or * zi + oi * zr;
}

/** Σ conj(z)^i y_i and Σ i conj(z)^i y_i into `sum`, by Horner's rule. */
export function signalOn(a: number) {
  const zr = pole[2 * a] as number;
  const zi = -(pole[2 * a + 1] as number);
  let re = 0;
  let im = 0;
  let dr = 0;
  let di = 0;
  for (let i = 2 * samples - 2; i >= 0; i -= 2) {
    const tr = dr * zr - di * zi + re;
    di = dr * zi + di * zr + im;
    dr = tr;
    const ur = re * zr - im * zi + (data[i] as number);
    im = re * zi + im * zr + (data[i + 1] as number);
    re = ur;
  }
  sum[0] = re;
  sum[1] = im;
  sum[2] = dr * zr - di * zi;
  sum[3] = dr * zi + di * zr;
}
