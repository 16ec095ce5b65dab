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

export function solve(A: Float64Array, b: Float64Array, P: number): Float64Array | undefined {
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
export function invert(A: Float64Array, P: number): Float64Array {
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
