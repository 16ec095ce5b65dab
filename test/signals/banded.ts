/**
 * A symmetric matrix of which only a band is not zero, stored by rows of the lower triangle:
 * `data[i * (halfWidth + 1) + halfWidth + j − i]` is entry (i, j), i − halfWidth ≤ j ≤ i.
 */
export interface Banded {
  readonly n: number;
  readonly halfWidth: number;
  readonly data: Float64Array;
}

export const banded = (n: number, halfWidth: number): Banded => ({
  n,
  halfWidth,
  data: new Float64Array(n * (halfWidth + 1)),
});

export function addTo(matrix: Banded, i: number, j: number, value: number): void {
  const row = Math.max(i, j);
  const column = Math.min(i, j);
  if (row - column > matrix.halfWidth)
    throw new RangeError(`entry (${i}, ${j}) outside half-width ${matrix.halfWidth}`);
  const at = row * (matrix.halfWidth + 1) + matrix.halfWidth + column - row;
  matrix.data[at] = (matrix.data[at] as number) + value;
}

/** y = A x. */
export function multiply(matrix: Banded, x: Float64Array, y: Float64Array): void {
  const { n, halfWidth: h, data } = matrix;
  y.fill(0);
  for (let i = 0; i < n; i++) {
    const row = i * (h + 1) + h - i;
    const xi = x[i] as number;
    let sum = (data[row + i] as number) * xi;
    for (let j = Math.max(0, i - h); j < i; j++) {
      const a = data[row + j] as number;
      sum += a * (x[j] as number);
      y[j] = (y[j] as number) + a * xi;
    }
    y[i] = (y[i] as number) + sum;
  }
}

/** Cholesky factor L of a positive definite banded matrix, A = L Lᵀ. @throws RangeError where A is not positive definite. */
export function factor(matrix: Banded): Banded {
  const { n, halfWidth: h } = matrix;
  const l = matrix.data.slice();
  const w = h + 1;
  for (let i = 0; i < n; i++) {
    const first = Math.max(0, i - h);
    const rowI = i * w + h - i;
    for (let j = first; j <= i; j++) {
      const rowJ = j * w + h - j;
      let sum = l[rowI + j] as number;
      for (let k = Math.max(first, j - h); k < j; k++) sum -= (l[rowI + k] as number) * (l[rowJ + k] as number);
      if (j < i) l[rowI + j] = sum / (l[rowJ + j] as number);
      else if (sum <= 0) throw new RangeError(`stiffness matrix not positive definite at row ${i}: ${sum}`);
      else l[rowI + i] = Math.sqrt(sum);
    }
  }
  return { n, halfWidth: h, data: l };
}

/** Solves L Lᵀ x = x in place. */
export function solve(lower: Banded, x: Float64Array): void {
  const { n, halfWidth: h, data: l } = lower;
  for (let i = 0; i < n; i++) {
    const row = i * (h + 1) + h - i;
    let sum = x[i] as number;
    for (let j = Math.max(0, i - h); j < i; j++) sum -= (l[row + j] as number) * (x[j] as number);
    x[i] = sum / (l[row + i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * (h + 1) + h - i;
    const xi = (x[i] as number) / (l[row + i] as number);
    x[i] = xi;
    for (let j = Math.max(0, i - h); j < i; j++) x[j] = (x[j] as number) - (l[row + j] as number) * xi;
  }
}
