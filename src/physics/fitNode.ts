import { choleskyInPlace, solveCholeskyInPlace } from './cholesky.ts';
import type { FitLine, FitSpoke } from './fitLine.ts';
import { holdOf, varianceWithPartner, withHold } from './holdErrors.ts';
import { LINE_SIZE, lineAt } from './lineAt.ts';
import {
  END_SCATTER,
  MODEL,
  modelErrorOf,
  ORDINARY,
  ordinaryWeight,
  SHARED,
  type SharedPrior,
  writeSensitivities,
} from './sharedErrors.ts';

/** One node's solution, all tones linear about the `starts`. */
export interface NodeFit {
  lnWeight: number;
  /** Its neighbours have been tried. */
  spread: boolean;
  degreesOfFreedom: number;
  /** Posterior mean of the shared errors, SHARED long, and the factor of the active ones' information. */
  z: Float64Array;
  factor: Float64Array;
  lnT: Float64Array;
  /** Own variance of ln T, its part from the tones alone, and from a known tension. */
  own: Float64Array;
  tones: Float64Array;
  calibration: Float64Array;
  /** −∂ln T/∂z for each spoke, as wide as there are active errors. */
  lever: Float64Array;
}

const read = new Float64Array(LINE_SIZE);
const row = new Float64Array(SHARED);
// Which of the active errors move a line, and its slopes against them.
const mover = new Int32Array(SHARED);
const slope = new Float64Array(SHARED);
// Scratch of one spoke's elimination: own block A, right side b, coupling B, A⁻¹ and A⁻¹·B.
const A = new Float64Array(9);
const b = new Float64Array(3);
const B = new Float64Array(3 * SHARED);
const inverse = new Float64Array(9);
const AB = new Float64Array(3 * SHARED);

/**
 * Solves one node exactly: each spoke's ln T and its departure of both ends are eliminated (3×3), the shared errors solved with their priors.
 * @param scatter of ln k from spoke to spoke, each end
 * @param active the shared errors that move any tone here; the others stay as they are believed
 */
export const fitNode = (
  spokes: readonly FitSpoke[],
  node: number,
  starts: readonly number[],
  prior: SharedPrior,
  scatter: number,
  active: readonly number[],
): NodeFit => {
  const P = active.length;
  const H = new Float64Array(P * P);
  const g = new Float64Array(P);
  let constant = 0;
  let lnDeterminants = 0;
  let observations = 0;
  for (let p = 0; p < P; p++) {
    const mean = prior.mean[active[p] as number] as number;
    const w = 1 / (prior.sigma[active[p] as number] as number) ** 2;
    H[p * P + p] = w;
    g[p] = w * mean;
    constant += w * mean * mean;
    lnDeterminants -= Math.log(w);
  }
  const count = spokes.length;
  const lever = new Float64Array(count * P);
  const lnT = new Float64Array(count);
  const own = new Float64Array(count);
  const tones = new Float64Array(count);
  const calibration = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const spoke = spokes[i] as FitSpoke;
    const n = spoke.lines.length;
    const at = starts[i] as number;
    // Own block: ln T, and this spoke's departure of both ends.
    A.fill(0);
    b.fill(0);
    B.fill(0);
    A[4] = 1 / scatter ** 2;
    A[8] = A[4];
    if (spoke.known !== undefined) {
      const w = 1 / spoke.known.sigma ** 2;
      const d = spoke.known.lnT - at;
      A[0] = w;
      b[0] = w * d;
      constant += w * d * d;
      lnDeterminants -= Math.log(w);
      observations++;
      calibration[i] = w;
    }
    const weak = ordinaryWeight(at) / count;
    A[0] = (A[0] as number) + weak;
    b[0] = (b[0] as number) + weak * (ORDINARY.lnT - at);
    constant += weak * (ORDINARY.lnT - at) ** 2;
    let pure = A[0] as number;
    for (let l = 0; l < n; l++) {
      const line = spoke.lines[l] as FitLine;
      lineAt(line.table, node, line.mode, at, read);
      const hold = holdOf(line.table, node);
      const w = 1 / varianceWithPartner(line.sigma, hold, read[6] as number);
      const residual = line.lnF - (read[0] as number);
      const j = read[1] as number;
      const hub = read[6] as number;
      const rim = read[7] as number;
      row.fill(0, MODEL);
      writeSensitivities(read, line.tied, hold, row, 0);
      row[modelErrorOf(line.mode, line.tied)] = withHold(line.table, node, line.model, read);
      pure += w * j * j;
      A[0] = (A[0] as number) + w * j * j;
      A[1] = (A[1] as number) + w * j * hub;
      A[2] = (A[2] as number) + w * j * rim;
      A[4] = (A[4] as number) + w * hub * hub;
      A[5] = (A[5] as number) + w * hub * rim;
      A[8] = (A[8] as number) + w * rim * rim;
      b[0] = (b[0] as number) + w * j * residual;
      b[1] = (b[1] as number) + w * hub * residual;
      b[2] = (b[2] as number) + w * rim * residual;
      constant += w * residual * residual;
      lnDeterminants -= Math.log(w);
      observations++;
      let movers = 0;
      for (let p = 0; p < P; p++) {
        const sp = row[active[p] as number] as number;
        if (sp === 0) continue;
        slope[movers] = sp;
        mover[movers++] = p;
      }
      for (let m = 0; m < movers; m++) {
        const p = mover[m] as number;
        const wsp = w * (slope[m] as number);
        B[p] = (B[p] as number) + wsp * j;
        B[P + p] = (B[P + p] as number) + wsp * hub;
        B[2 * P + p] = (B[2 * P + p] as number) + wsp * rim;
        g[p] = (g[p] as number) + wsp * residual;
        for (let k = 0; k <= m; k++) {
          const at = p * P + (mover[k] as number);
          H[at] = (H[at] as number) + wsp * (slope[k] as number);
        }
      }
    }
    A[3] = A[1] as number;
    A[6] = A[2] as number;
    A[7] = A[5] as number;
    invert3(A, inverse);
    const b0 = b[0] as number;
    const b1 = b[1] as number;
    const b2 = b[2] as number;
    const shiftT = (inverse[0] as number) * b0 + (inverse[1] as number) * b1 + (inverse[2] as number) * b2;
    const shiftHub = (inverse[3] as number) * b0 + (inverse[4] as number) * b1 + (inverse[5] as number) * b2;
    const shiftRim = (inverse[6] as number) * b0 + (inverse[7] as number) * b1 + (inverse[8] as number) * b2;
    for (let k = 0; k < 3; k++)
      for (let p = 0; p < P; p++)
        AB[k * P + p] =
          (inverse[3 * k] as number) * (B[p] as number) +
          (inverse[3 * k + 1] as number) * (B[P + p] as number) +
          (inverse[3 * k + 2] as number) * (B[2 * P + p] as number);
    for (let p = 0; p < P; p++) {
      const c0 = B[p] as number;
      const c1 = B[P + p] as number;
      const c2 = B[2 * P + p] as number;
      g[p] = (g[p] as number) - c0 * shiftT - c1 * shiftHub - c2 * shiftRim;
      const from = p * P;
      for (let q = 0; q <= p; q++)
        H[from + q] =
          (H[from + q] as number) -
          c0 * (AB[q] as number) -
          c1 * (AB[P + q] as number) -
          c2 * (AB[2 * P + q] as number);
    }
    constant -= b0 * shiftT + b1 * shiftHub + b2 * shiftRim;
    // Tensions of a side are alike: a node where tones hardly depend on tension is not likelier for each spoke's room in ln T, but once.
    lnDeterminants += lnDeterminant3(A) - 2 * Math.log(1 / scatter ** 2) - (1 - 1 / count) * Math.log(pure);
    lever.set(AB.subarray(0, P), i * P);
    lnT[i] = at + shiftT;
    own[i] = inverse[0] as number;
    if (scatter < END_SCATTER) {
      // Tones cannot show that the ends are alike beyond what the model itself is unsure of: the spoke's own part keeps the ordinary scatter.
      const missing = 1 / scatter ** 2 - 1 / END_SCATTER ** 2;
      A[4] = (A[4] as number) - missing;
      A[8] = (A[8] as number) - missing;
      invert3(A, inverse);
      own[i] = inverse[0] as number;
    }
    tones[i] = 1 / pure;
  }
  lnDeterminants += choleskyInPlace(H, P);
  const moved = Float64Array.from(g);
  solveCholeskyInPlace(H, moved, P);
  const z = Float64Array.from(prior.mean);
  active.forEach((p, a) => {
    z[p] = moved[a] as number;
  });
  let gz = 0;
  for (let p = 0; p < P; p++) gz += (g[p] as number) * (moved[p] as number);
  for (let i = 0; i < count; i++) {
    let shift = 0;
    for (let p = 0; p < P; p++) shift += (lever[i * P + p] as number) * (moved[p] as number);
    lnT[i] = (lnT[i] as number) - shift;
  }
  const chi2 = Math.max(constant - gz, 0);
  return {
    lnWeight: -0.5 * chi2 - 0.5 * lnDeterminants,
    spread: false,
    degreesOfFreedom: observations - count,
    z,
    factor: H,
    lnT,
    own,
    tones,
    calibration,
    lever,
  };
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
