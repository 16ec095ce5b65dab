/**
 * Lower Cholesky factor of a symmetric positive definite matrix, given by its lower triangle row by row and written over it.
 * @returns ln of the determinant
 * @throws RangeError if a pivot is not positive
 * @source Golub & Van Loan, Matrix Computations (4th ed., 2013), algorithm 4.2.1
 */
export const choleskyInPlace = (L: Float64Array, n: number): number => {
  let lnDeterminant = 0;
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = L[i * n + j] as number;
      for (let k = 0; k < j; k++) sum -= (L[i * n + k] as number) * (L[j * n + k] as number);
      if (i === j) {
        if (!(sum > 0)) throw new RangeError(`pivot ${i} is ${sum}, expected a positive definite matrix`);
        L[i * n + i] = Math.sqrt(sum);
        lnDeterminant += Math.log(sum);
      } else L[i * n + j] = sum / (L[j * n + j] as number);
    }
  return lnDeterminant;
};

/** Solves (L·Lᵀ)·x = b, x written over b. */
export const solveCholeskyInPlace = (L: Float64Array, x: Float64Array, n: number): void => {
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
};
