import { type Banded, factor, multiply, solve } from './banded.ts';
import { symmetricEigen } from './symmetricEigen.ts';

/** Modes of K φ = ω² M φ, ascending, φᵀ M φ = 1. */
export interface RawModes {
  readonly omega: Float64Array;
  readonly shapes: readonly Float64Array[];
}

/**
 * The lowest modes of a banded generalised symmetric eigenproblem, K and M positive definite.
 * Block Krylov subspace of K⁻¹M started from a fixed pseudo-random block, M-orthogonalised twice, then Rayleigh–Ritz on the inverse;
 * a block of two finds double roots as well.
 * @source Bathe, Finite Element Procedures (1996), ch. 11 (Lanczos, Rayleigh–Ritz); Parlett, The Symmetric Eigenvalue Problem (1980), ch. 13
 */
export function lowestModes(stiffness: Banded, mass: Banded, count: number, blockSize = 1): RawModes {
  const n = stiffness.n;
  const wanted = Math.min(count, n);
  const size = Math.min(n, Math.ceil(1.3 * wanted) + 12 + 10 * (blockSize - 1));
  const lower = factor(stiffness);
  const basis: Float64Array[] = [];
  const massBasis: Float64Array[] = [];
  let seed = 12345;
  const start = (): Float64Array => {
    const v = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      v[i] = seed / 4294967296 - 0.5;
    }
    return v;
  };
  // Entry (i, j) of the projected K⁻¹, vᵢᵀ M K⁻¹ M vⱼ, is what Gram–Schmidt takes off K⁻¹ M vⱼ.
  const projected = new Float64Array(size * size);
  const append = (v: Float64Array, column: number): boolean => {
    const mv = new Float64Array(n);
    multiply(mass, v, mv);
    const before = Math.sqrt(dot(v, mv));
    for (let pass = 0; pass < 2; pass++) {
      for (let j = 0; j < basis.length; j++) {
        const c = dot(v, massBasis[j] as Float64Array);
        const b = basis[j] as Float64Array;
        for (let i = 0; i < n; i++) v[i] = (v[i] as number) - c * (b[i] as number);
        if (column >= 0) projected[j * size + column] = (projected[j * size + column] as number) + c;
      }
    }
    if (basis.length === size) return false;
    multiply(mass, v, mv);
    const norm = Math.sqrt(Math.max(0, dot(v, mv)));
    if (!(norm > 1e-13 * before)) return false;
    if (column >= 0) projected[basis.length * size + column] = norm;
    for (let i = 0; i < n; i++) {
      v[i] = (v[i] as number) / norm;
      mv[i] = (mv[i] as number) / norm;
    }
    basis.push(v);
    massBasis.push(mv);
    return true;
  };
  for (let b = 0; b < blockSize; b++) append(start(), -1);
  for (let column = 0; column < basis.length; column++) {
    const v = (massBasis[column] as Float64Array).slice();
    solve(lower, v);
    if (!append(v, column) && basis.length < size && column >= basis.length - blockSize) append(start(), -1);
  }
  return ritz(projected, size, basis, n, wanted);
}

function ritz(
  krylov: Float64Array,
  stride: number,
  basis: readonly Float64Array[],
  n: number,
  wanted: number,
): RawModes {
  const m = basis.length;
  // What is above the first subdiagonal block is the transpose of what is below; rounding is halved away.
  const projected = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      const mean = ((krylov[i * stride + j] as number) + (krylov[j * stride + i] as number)) / 2;
      projected[i * m + j] = mean;
      projected[j * m + i] = mean;
    }
  }
  const { values, vectors } = symmetricEigen(projected, m);
  const omega = new Float64Array(wanted);
  const shapes: Float64Array[] = [];
  for (let k = 0; k < wanted; k++) {
    const column = m - 1 - k;
    const shape = new Float64Array(n);
    for (let j = 0; j < m; j++) {
      const c = vectors[j * m + column] as number;
      const b = basis[j] as Float64Array;
      for (let i = 0; i < n; i++) shape[i] = (shape[i] as number) + c * (b[i] as number);
    }
    omega[k] = 1 / Math.sqrt(values[column] as number);
    shapes.push(shape);
  }
  return { omega, shapes };
}

const dot = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
};
