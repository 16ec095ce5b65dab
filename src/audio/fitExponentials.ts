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
export interface BandSignal {
  /** Interleaved re, im. */
  readonly samples: Float64Array;
  readonly count: number;
  readonly rateHz: number;
  readonly centreHz: number;
  /** How many neighbouring samples carry the same noise: sample rate over the noise bandwidth of the band filter. */
  readonly correlation: number;
}
/** What is known of the glide before the fit; absent: no glide. */
export interface GlideStart {
  readonly value: number;
  /** Rate at which the glide dies, 1/s; absent: twice the decay of the first component (it follows the energy). */
  readonly rate?: number;
  readonly prior: { readonly mean: number; readonly sigma: number };
}
export interface DampedFit {
  readonly components: readonly Damped[];
  /** Relative rise of frequency at the band's first sample, 0 without glide. */
  readonly glide: number;
  readonly glideRate: number;
  readonly hasGlide: boolean;
  /** Covariance of (omega, decay) of each component in turn and last the glide; row-major, square. */
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
export const THOROUGH: Effort = { steps: 16, gain: 1e-8 };
export const QUICK: Effort = { steps: 5, gain: 1e-3 };

const LOWEST_DECAY = 0.15;
const HIGHEST_DECAY = 400;
const HIGHEST_GLIDE = 0.06;
const LOWEST_GLIDE = -0.003;

/**
 * Least-squares fit of damped exponentials with a common relative glide to a complex band signal.
 * The complex amplitudes are eliminated (variable projection) and the poles and the glide found by Levenberg–Marquardt with
 * the simplified Jacobian. The frequency of a gliding tone is f·(1 + g·exp(−rate·t)), so `omega` is that at zero amplitude.
 * @param start components, the strongest first; amplitudes are ignored. 1 to 6.
 * @param glide absent: the fit has none.
 * @source Golub and Pereyra 1973, SIAM J. Numer. Anal. 10:413; Kaufman 1975, BIT 15:49 (Jacobian); Marquardt 1963; Schwarz
 *   1978, Ann. Stat. 6:461 (criterion). Glide: tension follows the energy, Tolonen, Välimäki and Karjalainen 2000,
 *   IEEE Trans. Speech Audio Process. 8:300.
 */
export function fitExponentials(
  band: BandSignal,
  start: readonly Pick<Damped, 'omega' | 'decay' | 'glides'>[],
  glide?: GlideStart,
  effort: Effort = THOROUGH,
): DampedFit {
  const K = start.length;
  const hasGlide = glide !== undefined;
  const P = 2 * K + (hasGlide ? 1 : 0);
  const work = workspace(band.count, K, P);
  const limit = Math.PI * band.rateHz * 0.98;
  let p = new Float64Array(P);
  start.forEach((s, k) => {
    p[2 * k] = s.omega;
    p[2 * k + 1] = s.decay;
  });
  if (hasGlide) p[2 * K] = glide.value;
  clamp(p, K, hasGlide, limit);
  const glides = start.map((s) => s.glides);
  const rateOf = (q: Float64Array) => glide?.rate ?? Math.max(2, 2 * (q[1] as number));

  project(band, p, K, glides, hasGlide, rateOf(p), work);
  let rss = work.rss;
  // The prior on the glide enters as one more residual, in units of the noise of the fit so far.
  let priorWeight = 0;
  const priorCost = (q: Float64Array) => (hasGlide ? priorWeight * ((q[2 * K] as number) - glide.prior.mean) ** 2 : 0);
  let lambda = 1e-3;
  // Is the workspace that of `p`, or of a rejected trial?
  let fresh = true;
  const H = new Float64Array(P * P);
  const b = new Float64Array(P);
  const damped = new Float64Array(P * P);
  for (let step = 0; step < effort.steps; step++) {
    if (hasGlide) {
      const noisePerReal = (rss / Math.max(1, band.count - K)) * 0.5 * band.correlation;
      priorWeight = noisePerReal / glide.prior.sigma ** 2;
    }
    jacobian(band, p, K, P, glides, hasGlide, rateOf(p), work);
    normal(work, P, band.count, H, b);
    if (hasGlide) {
      const last = P - 1;
      H[last * P + last] = (H[last * P + last] as number) + priorWeight;
      b[last] = (b[last] as number) - priorWeight * ((p[last] as number) - glide.prior.mean);
    }
    const before = rss + priorCost(p);
    let gained = 0;
    let accepted = false;
    for (let attempt = 0; attempt < 5 && !accepted; attempt++) {
      damped.set(H);
      for (let i = 0; i < P; i++) damped[i * P + i] = (H[i * P + i] as number) * (1 + lambda) + 1e-300;
      const move = solve(damped, b, P);
      const trial = new Float64Array(p);
      if (move) for (let i = 0; i < P; i++) trial[i] = (trial[i] as number) + (move[i] as number);
      clamp(trial, K, hasGlide, limit);
      if (move) project(band, trial, K, glides, hasGlide, rateOf(trial), work);
      const after = work.rss + priorCost(trial);
      if (move && after < before) {
        fresh = true;
        p = trial;
        rss = work.rss;
        gained = (before - after) / Math.max(before, 1e-300);
        lambda = Math.max(1e-9, lambda * 0.2);
        accepted = true;
      } else {
        lambda *= 6;
        fresh = false;
      }
    }
    if (!accepted || gained < effort.gain) break;
  }
  const rate = rateOf(p);
  if (!fresh) project(band, p, K, glides, hasGlide, rate, work);
  rss = work.rss;
  jacobian(band, p, K, P, glides, hasGlide, rate, work);
  normal(work, P, band.count, H, b);
  const dof = Math.max(1, band.count - K - P / 2);
  const perReal = (rss / dof) * 0.5 * band.correlation;
  if (hasGlide) H[P * P - 1] = (H[P * P - 1] as number) + perReal / glide.prior.sigma ** 2;
  const covariance = invert(H, P);
  for (let i = 0; i < P * P; i++) covariance[i] = (covariance[i] as number) * perReal;
  const independent = Math.max(8, (2 * band.count) / band.correlation);
  const bic = independent * Math.log(Math.max(rss / band.count, 1e-300)) + (P + 2 * K) * Math.log(independent);
  const components = glides.map((g, k) => ({
    omega: p[2 * k] as number,
    decay: p[2 * k + 1] as number,
    re: work.c[2 * k] as number,
    im: work.c[2 * k + 1] as number,
    glides: g,
  }));
  return {
    components,
    glide: hasGlide ? (p[2 * K] as number) : 0,
    glideRate: rate,
    hasGlide,
    covariance,
    parameters: P,
    noise: rss / dof,
    bic,
  };
}

/** What a fit leaves of its band, interleaved re, im. */
export function residualOf(band: BandSignal, fit: DampedFit): Float64Array {
  const K = fit.components.length;
  const work = workspace(band.count, K, fit.parameters);
  const p = new Float64Array(2 * K + 1);
  fit.components.forEach((c, k) => {
    p[2 * k] = c.omega;
    p[2 * k + 1] = c.decay;
  });
  p[2 * K] = fit.glide;
  const glides = fit.components.map((c) => c.glides);
  project(band, p, K, glides, fit.hasGlide, fit.glideRate, work);
  return work.residual.slice(0, 2 * band.count);
}

interface Workspace {
  readonly phi: Float64Array[];
  readonly q: Float64Array[];
  readonly r: Float64Array;
  readonly c: Float64Array;
  readonly residual: Float64Array;
  readonly j: Float64Array[];
  rss: number;
}
const spaces = new Map<string, Workspace>();
function workspace(count: number, K: number, P: number): Workspace {
  const key = `${count}/${K}/${P}`;
  const known = spaces.get(key);
  if (known) return known;
  if (spaces.size > 64) spaces.clear();
  const column = () => new Float64Array(2 * count);
  const made: Workspace = {
    phi: Array.from({ length: K }, column),
    q: Array.from({ length: K }, column),
    r: new Float64Array(2 * K * K),
    c: new Float64Array(2 * K),
    residual: column(),
    j: Array.from({ length: P }, column),
    rss: 0,
  };
  spaces.set(key, made);
  return made;
}

function clamp(p: Float64Array, K: number, hasGlide: boolean, limit: number) {
  for (let k = 0; k < K; k++) {
    p[2 * k] = Math.max(-limit, Math.min(limit, p[2 * k] as number));
    p[2 * k + 1] = Math.max(LOWEST_DECAY, Math.min(HIGHEST_DECAY, p[2 * k + 1] as number));
  }
  if (hasGlide) p[2 * K] = Math.max(LOWEST_GLIDE, Math.min(HIGHEST_GLIDE, p[2 * K] as number));
}

/** Basis, its orthonormal form, the amplitudes and the residual at parameters `p`. */
function project(
  band: BandSignal,
  p: Float64Array,
  K: number,
  glides: readonly boolean[],
  hasGlide: boolean,
  rate: number,
  w: Workspace,
) {
  const n = band.count;
  const dt = 1 / band.rateHz;
  const g = hasGlide ? (p[2 * K] as number) : 0;
  for (let k = 0; k < K; k++) {
    const omega = p[2 * k] as number;
    const decay = p[2 * k + 1] as number;
    const phi = w.phi[k] as Float64Array;
    if (hasGlide && glides[k]) {
      const beta = ((2 * Math.PI * band.centreHz + omega) * g) / rate;
      const shrink = Math.exp(-rate * dt);
      let left = 1;
      const fall = Math.exp(-decay * dt);
      let size = 1;
      for (let i = 0; i < n; i++) {
        const angle = omega * i * dt + beta * (1 - left);
        phi[2 * i] = size * Math.cos(angle);
        phi[2 * i + 1] = size * Math.sin(angle);
        left *= shrink;
        size *= fall;
      }
    } else {
      const zr = Math.exp(-decay * dt) * Math.cos(omega * dt);
      const zi = Math.exp(-decay * dt) * Math.sin(omega * dt);
      let re = 1;
      let im = 0;
      for (let i = 0; i < n; i++) {
        phi[2 * i] = re;
        phi[2 * i + 1] = im;
        const next = re * zr - im * zi;
        im = re * zi + im * zr;
        re = next;
      }
    }
  }
  // Modified Gram–Schmidt, complex.
  for (let k = 0; k < K; k++) {
    const q = w.q[k] as Float64Array;
    q.set(w.phi[k] as Float64Array);
    for (let m = 0; m < k; m++) {
      const other = w.q[m] as Float64Array;
      let re = 0;
      let im = 0;
      for (let i = 0; i < 2 * n; i += 2) {
        const or = other[i] as number;
        const oi = other[i + 1] as number;
        const qr = q[i] as number;
        const qi = q[i + 1] as number;
        re += or * qr + oi * qi;
        im += or * qi - oi * qr;
      }
      w.r[2 * (m * K + k)] = re;
      w.r[2 * (m * K + k) + 1] = im;
      for (let i = 0; i < 2 * n; i += 2) {
        const or = other[i] as number;
        const oi = other[i + 1] as number;
        q[i] = (q[i] as number) - (or * re - oi * im);
        q[i + 1] = (q[i + 1] as number) - (or * im + oi * re);
      }
    }
    let norm = 0;
    for (let i = 0; i < 2 * n; i++) norm += (q[i] as number) ** 2;
    norm = Math.sqrt(norm);
    w.r[2 * (k * K + k)] = norm;
    const scale = norm > 1e-12 ? 1 / norm : 0;
    for (let i = 0; i < 2 * n; i++) q[i] = (q[i] as number) * scale;
  }
  const res = w.residual;
  for (let i = 0; i < 2 * n; i++) res[i] = band.samples[i] as number;
  for (let k = 0; k < K; k++) {
    const q = w.q[k] as Float64Array;
    let re = 0;
    let im = 0;
    for (let i = 0; i < 2 * n; i += 2) {
      const qr = q[i] as number;
      const qi = q[i + 1] as number;
      const rr = res[i] as number;
      const ri = res[i + 1] as number;
      re += qr * rr + qi * ri;
      im += qr * ri - qi * rr;
    }
    w.c[2 * k] = re;
    w.c[2 * k + 1] = im;
    for (let i = 0; i < 2 * n; i += 2) {
      const qr = q[i] as number;
      const qi = q[i + 1] as number;
      res[i] = (res[i] as number) - (qr * re - qi * im);
      res[i + 1] = (res[i + 1] as number) - (qr * im + qi * re);
    }
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
    w.c[2 * k] = d > 1e-12 ? re / d : 0;
    w.c[2 * k + 1] = d > 1e-12 ? im / d : 0;
  }
  let rss = 0;
  for (let i = 0; i < 2 * n; i++) rss += (res[i] as number) ** 2;
  w.rss = rss;
}

/** Kaufman's Jacobian of the residual: the derivatives of the basis, projected off it. Amplitudes from the last `project`. */
function jacobian(
  band: BandSignal,
  p: Float64Array,
  K: number,
  P: number,
  glides: readonly boolean[],
  hasGlide: boolean,
  rate: number,
  w: Workspace,
) {
  const n = band.count;
  const dt = 1 / band.rateHz;
  const g = hasGlide ? (p[2 * K] as number) : 0;
  const jg = hasGlide ? (w.j[2 * K] as Float64Array) : undefined;
  jg?.fill(0);
  for (let k = 0; k < K; k++) {
    const phi = w.phi[k] as Float64Array;
    const cr = w.c[2 * k] as number;
    const ci = w.c[2 * k + 1] as number;
    const jo = w.j[2 * k] as Float64Array;
    const jd = w.j[2 * k + 1] as Float64Array;
    const gliding = hasGlide && glides[k] === true;
    const absolute = 2 * Math.PI * band.centreHz + (p[2 * k] as number);
    const shrink = Math.exp(-rate * dt);
    let left = 1;
    for (let i = 0; i < n; i++) {
      const t = i * dt;
      const re = (phi[2 * i] as number) * cr - (phi[2 * i + 1] as number) * ci;
      const im = (phi[2 * i] as number) * ci + (phi[2 * i + 1] as number) * cr;
      const grown = gliding ? (1 - left) / rate : 0;
      const to = t + g * grown;
      // −∂/∂omega = −j·to·c·phi ; −∂/∂decay = t·c·phi
      jo[2 * i] = to * im;
      jo[2 * i + 1] = -to * re;
      jd[2 * i] = t * re;
      jd[2 * i + 1] = t * im;
      if (gliding && jg) {
        jg[2 * i] = (jg[2 * i] as number) + absolute * grown * im;
        jg[2 * i + 1] = (jg[2 * i + 1] as number) - absolute * grown * re;
      }
      left *= shrink;
    }
  }
  for (let c = 0; c < P; c++) {
    const column = w.j[c] as Float64Array;
    for (let k = 0; k < K; k++) {
      const q = w.q[k] as Float64Array;
      let re = 0;
      let im = 0;
      for (let i = 0; i < 2 * n; i += 2) {
        const qr = q[i] as number;
        const qi = q[i + 1] as number;
        const xr = column[i] as number;
        const xi = column[i + 1] as number;
        re += qr * xr + qi * xi;
        im += qr * xi - qi * xr;
      }
      for (let i = 0; i < 2 * n; i += 2) {
        const qr = q[i] as number;
        const qi = q[i + 1] as number;
        column[i] = (column[i] as number) - (qr * re - qi * im);
        column[i + 1] = (column[i + 1] as number) - (qr * im + qi * re);
      }
    }
  }
}

/** H = Re(JᴴJ), b = −Re(Jᴴr). */
function normal(w: Workspace, P: number, n: number, H: Float64Array, b: Float64Array) {
  for (let i = 0; i < P; i++) {
    const a = w.j[i] as Float64Array;
    for (let k = 0; k <= i; k++) {
      const c = w.j[k] as Float64Array;
      let sum = 0;
      for (let m = 0; m < 2 * n; m++) sum += (a[m] as number) * (c[m] as number);
      H[i * P + k] = sum;
      H[k * P + i] = sum;
    }
    let sum = 0;
    for (let m = 0; m < 2 * n; m++) sum += (a[m] as number) * (w.residual[m] as number);
    b[i] = -sum;
  }
}

/** Cholesky with the diagonal scaled to one; undefined where the matrix is not positive definite. */
function factor(A: Float64Array, P: number): { L: Float64Array; scale: Float64Array } | undefined {
  const scale = new Float64Array(P);
  for (let i = 0; i < P; i++) {
    const d = A[i * P + i] as number;
    if (!(d > 0)) return undefined;
    scale[i] = 1 / Math.sqrt(d);
  }
  const L = new Float64Array(P * P);
  for (let i = 0; i < P; i++)
    for (let k = 0; k <= i; k++) {
      let sum = (A[i * P + k] as number) * (scale[i] as number) * (scale[k] as number);
      for (let m = 0; m < k; m++) sum -= (L[i * P + m] as number) * (L[k * P + m] as number);
      if (i === k) {
        if (sum < 1e-13) return undefined;
        L[i * P + i] = Math.sqrt(sum);
      } else L[i * P + k] = sum / (L[k * P + k] as number);
    }
  return { L, scale };
}

function solve(A: Float64Array, b: Float64Array, P: number): Float64Array | undefined {
  const f = factor(A, P);
  if (!f) return undefined;
  const x = new Float64Array(P);
  for (let i = 0; i < P; i++) {
    let sum = (b[i] as number) * (f.scale[i] as number);
    for (let m = 0; m < i; m++) sum -= (f.L[i * P + m] as number) * (x[m] as number);
    x[i] = sum / (f.L[i * P + i] as number);
  }
  for (let i = P - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let m = i + 1; m < P; m++) sum -= (f.L[m * P + i] as number) * (x[m] as number);
    x[i] = sum / (f.L[i * P + i] as number);
  }
  for (let i = 0; i < P; i++) x[i] = (x[i] as number) * (f.scale[i] as number);
  return x;
}

/** Inverse; a singular direction is held by a small ridge, so its variance comes out large instead of infinite. */
function invert(A: Float64Array, P: number): Float64Array {
  const B = new Float64Array(A);
  for (let ridge = 1e-12; ridge < 1; ridge *= 100) {
    const out = new Float64Array(P * P);
    let sound = true;
    for (let c = 0; c < P && sound; c++) {
      const e = new Float64Array(P);
      e[c] = 1;
      const x = solve(B, e, P);
      if (!x) sound = false;
      else for (let i = 0; i < P; i++) out[i * P + c] = x[i] as number;
    }
    if (sound) return out;
    for (let i = 0; i < P; i++) B[i * P + i] = (A[i * P + i] as number) * (1 + ridge) + 1e-300;
  }
  throw new RangeError('normal matrix could not be inverted, expected a finite symmetric matrix');
}
