import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import { type NodeSums, OWN } from './nodeSums.ts';
import { END_SCATTER, type SharedPrior } from './sharedErrors.ts';

/** One node's solution. */
export interface NodeFit {
  lnWeight: number;
  /** Its neighbours have been tried. */
  spread: boolean;
  degreesOfFreedom: number;
  /** Posterior mean of the shared errors, SHARED long, and the factor of the active ones' information. */
  z: Float64Array;
  factor: Float64Array;
  lnT: Float64Array;
  /** Own variance of ln T; information on it if the ends were known, and the part of it from a known tension. */
  own: Float64Array;
  pure: Float64Array;
  calibration: Float64Array;
  /** −∂ln T/∂z for each spoke, as wide as there are active errors. */
  lever: Float64Array;
}

// Scratch of one spoke's elimination: its own block with the scatter's prior, the inverse, and the inverse times its coupling.
const A = new Float64Array(OWN * OWN);
const inverse = new Float64Array(OWN * OWN);
const shift = new Float64Array(OWN);

/**
 * Solves one node exactly: each spoke's ln T and its departure of both ends are eliminated (3×3), the shared errors solved with their priors.
 * @param scatter of ln k from spoke to spoke, each end
 * @param active as for `sumNode`
 */
export const fitNode = (sums: NodeSums, prior: SharedPrior, scatter: number, active: readonly number[]): NodeFit => {
  const P = active.length;
  const count = sums.at.length;
  const H = sums.information.slice();
  const g = sums.shared.slice();
  const lever = new Float64Array(count * P);
  const lnT = new Float64Array(count);
  const own = new Float64Array(count);
  const { right, coupling } = sums;
  let { constant, lnDeterminants } = sums;
  const AB = new Float64Array(OWN * P);
  const departure = 1 / scatter ** 2;
  for (let i = 0; i < count; i++) {
    const a = i * OWN * OWN;
    for (let k = 0; k < A.length; k++) A[k] = sums.block[a + k] as number;
    A[4] = (A[4] as number) + departure;
    A[8] = (A[8] as number) + departure;
    invert3(A, inverse);
    const b = i * OWN;
    const c = i * OWN * P;
    for (let k = 0; k < OWN; k++) {
      const i0 = inverse[OWN * k] as number;
      const i1 = inverse[OWN * k + 1] as number;
      const i2 = inverse[OWN * k + 2] as number;
      const moved = i0 * (right[b] as number) + i1 * (right[b + 1] as number) + i2 * (right[b + 2] as number);
      shift[k] = moved;
      constant -= moved * (right[b + k] as number);
      for (let p = 0; p < P; p++)
        AB[k * P + p] =
          i0 * (coupling[c + p] as number) +
          i1 * (coupling[c + P + p] as number) +
          i2 * (coupling[c + 2 * P + p] as number);
    }
    eliminate(coupling, c, AB, H, g, P);
    for (let p = 0; p < P; p++) lever[i * P + p] = AB[p] as number;
    // Tensions of a side are alike: a node where tones hardly depend on tension is not likelier for each spoke's room in ln T, but once.
    const pure = sums.pure[i] as number;
    lnDeterminants += lnDeterminant3(A) - 2 * Math.log(departure) - (1 - 1 / count) * Math.log(pure);
    lnT[i] = (sums.at[i] as number) + (shift[0] as number);
    own[i] = ownVariance(scatter);
  }
  lnDeterminants += choleskyInPlace(H, P);
  const moved = g.slice();
  solveCholeskyInPlace(H, moved, P);
  const z = Float64Array.from(prior.mean);
  active.forEach((p, a) => {
    z[p] = moved[a] as number;
  });
  for (let i = 0; i < count; i++) lnT[i] = (lnT[i] as number) - dot(lever, i * P, moved);
  return {
    lnWeight: -0.5 * (Math.max(constant - dot(g, 0, moved), 0) + lnDeterminants),
    spread: false,
    degreesOfFreedom: sums.observations - count,
    z,
    factor: H,
    lnT,
    own,
    pure: sums.pure,
    calibration: sums.calibration,
    lever,
  };
};

/** Takes a spoke's own unknowns, whose coupling stands in B at `from`, out of the shared normal equations: H − Bᵀ·A⁻¹·B and g − Bᵀ·A⁻¹·b. */
const eliminate = (
  B: Float64Array,
  from: number,
  AB: Float64Array,
  H: Float64Array,
  g: Float64Array,
  P: number,
): void => {
  for (let p = 0; p < P; p++) {
    const b0 = B[from + p] as number;
    const b1 = B[from + P + p] as number;
    const b2 = B[from + 2 * P + p] as number;
    g[p] = (g[p] as number) - b0 * (shift[0] as number) - b1 * (shift[1] as number) - b2 * (shift[2] as number);
    const row = p * P;
    for (let q = 0; q <= p; q++)
      H[row + q] =
        (H[row + q] as number) - b0 * (AB[q] as number) - b1 * (AB[P + q] as number) - b2 * (AB[2 * P + q] as number);
  }
};

/**
 * Variance of the ln T of the spoke in `A`. Tones cannot show that the ends are alike beyond what the model itself is unsure of: where a
 * smaller scatter is tried, the spoke's own part keeps the ordinary one.
 */
const ownVariance = (scatter: number): number => {
  if (scatter < END_SCATTER) {
    const missing = 1 / scatter ** 2 - 1 / END_SCATTER ** 2;
    A[4] = (A[4] as number) - missing;
    A[8] = (A[8] as number) - missing;
    invert3(A, inverse);
  }
  return inverse[0] as number;
};

/** The sum of products of `b` with as many numbers of `a` from `at`. */
const dot = (a: Float64Array, at: number, b: Float64Array): number => {
  let sum = 0;
  for (let p = 0; p < b.length; p++) sum += (a[at + p] as number) * (b[p] as number);
  return sum;
};

const invert3 = (a: Float64Array, out: Float64Array): void => {
  const m0 = a[0] as number;
  const m1 = a[1] as number;
  const m2 = a[2] as number;
  const m3 = a[3] as number;
  const m4 = a[4] as number;
  const m5 = a[5] as number;
  const m6 = a[6] as number;
  const m7 = a[7] as number;
  const m8 = a[8] as number;
  const c0 = m4 * m8 - m5 * m7;
  const c1 = m5 * m6 - m3 * m8;
  const c2 = m3 * m7 - m4 * m6;
  const d = m0 * c0 + m1 * c1 + m2 * c2;
  out[0] = c0 / d;
  out[1] = (m2 * m7 - m1 * m8) / d;
  out[2] = (m1 * m5 - m2 * m4) / d;
  out[3] = c1 / d;
  out[4] = (m0 * m8 - m2 * m6) / d;
  out[5] = (m2 * m3 - m0 * m5) / d;
  out[6] = c2 / d;
  out[7] = (m1 * m6 - m0 * m7) / d;
  out[8] = (m0 * m4 - m1 * m3) / d;
};
const lnDeterminant3 = (a: Float64Array): number => {
  const m0 = a[0] as number;
  const m1 = a[1] as number;
  const m2 = a[2] as number;
  const m3 = a[3] as number;
  const m4 = a[4] as number;
  const m5 = a[5] as number;
  const m6 = a[6] as number;
  const m7 = a[7] as number;
  const m8 = a[8] as number;
  return Math.log(m0 * (m4 * m8 - m5 * m7) + m1 * (m5 * m6 - m3 * m8) + m2 * (m3 * m7 - m4 * m6));
};
