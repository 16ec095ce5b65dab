/**
 * Lower Cholesky factor of a symmetric positive definite matrix given by its lower triangle, row by row.
 * @throws RangeError if a pivot is not positive
 * @source Golub & Van Loan, Matrix Computations (4th ed., 2013), algorithm 4.2.1
 */
export const cholesky = (matrix: Float64Array, n: number): Float64Array => {
  const L = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * n + j] as number;
      for (let k = 0; k < j; k++) sum -= (L[i * n + k] as number) * (L[j * n + k] as number);
      if (i === j) {
        if (!(sum > 0)) throw new RangeError(`pivot ${i} is ${sum}, expected a positive definite matrix`);
        L[i * n + i] = Math.sqrt(sum);
      } else L[i * n + j] = sum / (L[j * n + j] as number);
    }
  return L;
};

/** Solves (L·Lᵀ)·x = b. */
export const solveCholesky = (L: Float64Array, b: Float64Array, n: number): Float64Array => {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    let sum = x[i] as number;
    for (let k = 0; k < i; k++) sum -= (L[i * n + k] as number) * (x[k] as number);
    x[i] = sum / (L[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let k = i + 1; k < n; k++) sum -= (L[k * n + i] as number) * (x[k] as number);
    x[i] = sum / (L[i * n + i] as number);
  }
  return x;
};
