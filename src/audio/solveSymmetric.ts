/** Most unknowns of one problem: two of each of six components, and the glide's two. */
export const MOST_UNKNOWNS = 14;

// One problem at a time: the factor that was made last. A fit solves dozens of them.
const L = new Float64Array(MOST_UNKNOWNS * MOST_UNKNOWNS);
const scale = new Float64Array(MOST_UNKNOWNS);
const held = new Float64Array(MOST_UNKNOWNS * MOST_UNKNOWNS);
const unit = new Float64Array(MOST_UNKNOWNS);
const column = new Float64Array(MOST_UNKNOWNS);

/** Cholesky with the diagonal scaled to one, into `L` and `scale`; false where the matrix is not positive definite. */
function factor(A: Float64Array, P: number): boolean {
  if (P > MOST_UNKNOWNS) throw new RangeError(`P is ${P}, expected at most ${MOST_UNKNOWNS}`);
  for (let i = 0; i < P; i++) {
    const d = A[i * P + i] as number;
    if (!(d > 0)) return false;
    scale[i] = 1 / Math.sqrt(d);
  }
  for (let i = 0; i < P; i++)
    for (let k = 0; k <= i; k++) {
      let sum = (A[i * P + k] as number) * (scale[i] as number) * (scale[k] as number);
      for (let m = 0; m < k; m++) sum -= (L[i * P + m] as number) * (L[k * P + m] as number);
      if (i === k) {
        if (sum < 1e-13) return false;
        L[i * P + i] = Math.sqrt(sum);
      } else L[i * P + k] = sum / (L[k * P + k] as number);
    }
  return true;
}

/** A⁻¹b into `x`; false where A is not positive definite. @param A P × P, row-major; it and the others may be longer than is used. */
export function solve(A: Float64Array, b: Float64Array, P: number, x: Float64Array): boolean {
  if (!factor(A, P)) return false;
  substitute(b, P, x);
  return true;
}

/** The solution for the last factor, into `x`. */
function substitute(b: Float64Array, P: number, x: Float64Array) {
  for (let i = 0; i < P; i++) {
    let sum = (b[i] as number) * (scale[i] as number);
    for (let m = 0; m < i; m++) sum -= (L[i * P + m] as number) * (x[m] as number);
    x[i] = sum / (L[i * P + i] as number);
  }
  for (let i = P - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let m = i + 1; m < P; m++) sum -= (L[m * P + i] as number) * (x[m] as number);
    x[i] = sum / (L[i * P + i] as number);
  }
  for (let i = 0; i < P; i++) x[i] = (x[i] as number) * (scale[i] as number);
}

/**
 * Inverse of a symmetric matrix that should be positive definite.
 * A direction without information (zero or negative pivot) is held by a small ridge, so its variance comes out large instead
 * of infinite.
 * @throws RangeError when a value is not finite.
 */
export function invert(A: Float64Array, P: number): Float64Array {
  const B = held;
  B.set(A.subarray(0, P * P));
  let largest = 0;
  for (let i = 0; i < P; i++) largest = Math.max(largest, A[i * P + i] as number);
  const least = Math.max(largest * 1e-15, 1e-300);
  for (let i = 0; i < P; i++) B[i * P + i] = Math.max(least, B[i * P + i] as number);
  // Rounding may leave a pair more than fully correlated.
  for (let i = 0; i < P; i++)
    for (let k = 0; k < P; k++) {
      if (i === k) continue;
      const most = Math.sqrt((B[i * P + i] as number) * (B[k * P + k] as number));
      B[i * P + k] = Math.max(-most, Math.min(most, B[i * P + k] as number));
    }
  for (let ridge = 1e-12; ridge < 1e6; ridge *= 100) {
    if (factor(B, P)) {
      const out = new Float64Array(P * P);
      for (let c = 0; c < P; c++) {
        unit.fill(0);
        unit[c] = 1;
        substitute(unit, P, column);
        for (let i = 0; i < P; i++) out[i * P + c] = column[i] as number;
      }
      return out;
    }
    for (let i = 0; i < P; i++) B[i * P + i] = (B[i * P + i] as number) * (1 + ridge) + least;
  }
  throw new RangeError(`matrix has diagonal ${largest}, expected finite values`);
}
