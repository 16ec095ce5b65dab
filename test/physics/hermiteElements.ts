/**
 * A finite-element judge of its own: cubic Hermite elements with consistent mass and geometric stiffness (Przemieniecki, Theory of Matrix
 * Structural Analysis, 1968, ch. 5, 11, 15), solved as a dense symmetric problem by ml-matrix. Shares no code with the room.
 */
import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Member } from '../../src/physics/member.ts';

export interface Held {
  readonly hubEnd: number;
  readonly rimEnd: number;
  /** N/m at the member's crossing. */
  readonly support?: number;
}

/** Lowest frequencies in the wheel's plane, Hz. @param elementM longest element */
export const hermiteModes = (
  member: Member,
  tension: number,
  held: Held,
  count: number,
  elementM: number,
): number[] => {
  const cuts: { length: number; mass: number; bending: number }[] = [];
  let at = 0;
  let crossingNode = -1;
  for (const s of member.sections) {
    const ends = [at, at + s.length];
    const x = member.crossingFromHub;
    const inside = x !== undefined && x > at + 1e-9 && x < at + s.length - 1e-9;
    const marks = inside ? [ends[0] as number, x, ends[1] as number] : (ends as [number, number]);
    for (let m = 0; m + 1 < marks.length; m++) {
      const span = (marks[m + 1] as number) - (marks[m] as number);
      const n = Math.max(1, Math.ceil(span / elementM));
      for (let i = 0; i < n; i++) cuts.push({ length: span / n, mass: s.massPerLength, bending: s.bendingInPlane });
      if (x !== undefined && Math.abs((marks[m + 1] as number) - x) < 1e-9) crossingNode = cuts.length;
    }
    at += s.length;
  }
  const size = 2 * (cuts.length + 1);
  const K = Matrix.zeros(size, size);
  const M = Matrix.zeros(size, size);
  const add = (to: Matrix, i: number, j: number, v: number): void => {
    to.set(i, j, to.get(i, j) + v);
  };
  cuts.forEach(({ length: l, mass, bending }, e) => {
    const k = [
      [12, 6 * l, -12, 6 * l],
      [6 * l, 4 * l * l, -6 * l, 2 * l * l],
      [-12, -6 * l, 12, -6 * l],
      [6 * l, 2 * l * l, -6 * l, 4 * l * l],
    ];
    const g = [
      [36, 3 * l, -36, 3 * l],
      [3 * l, 4 * l * l, -3 * l, -l * l],
      [-36, -3 * l, 36, -3 * l],
      [3 * l, -l * l, -3 * l, 4 * l * l],
    ];
    const m = [
      [156, 22 * l, 54, -13 * l],
      [22 * l, 4 * l * l, 13 * l, -3 * l * l],
      [54, 13 * l, 156, -22 * l],
      [-13 * l, -3 * l * l, -22 * l, 4 * l * l],
    ];
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++) {
        const stiffness = ((k[i]?.[j] ?? 0) * bending) / l ** 3 + ((g[i]?.[j] ?? 0) * tension) / (30 * l);
        add(K, 2 * e + i, 2 * e + j, stiffness);
        add(M, 2 * e + i, 2 * e + j, ((m[i]?.[j] ?? 0) * mass * l) / 420);
      }
  });
  add(K, 1, 1, held.hubEnd);
  add(K, size - 1, size - 1, held.rimEnd);
  if (held.support !== undefined) add(K, 2 * crossingNode, 2 * crossingNode, held.support);
  const free = Array.from({ length: size }, (_, i) => i).filter((i) => i !== 0 && i !== size - 2);
  return lowestOf(K, M, free, count);
};

/** Lowest frequencies of K − ω²M with only the `free` unknowns kept, Hz. M may be singular. */
export const lowestOf = (K: Matrix, M: Matrix, free: number[], count: number): number[] => {
  const Kf = K.selection(free, free);
  const Mf = M.selection(free, free);
  // Symmetric standard form L⁻¹ M L⁻ᵀ with K = L·Lᵀ: its largest eigenvalues are 1/ω².
  const L = new CholeskyDecomposition(Kf).lowerTriangularMatrix;
  const half = forward(L, Mf);
  const symmetric = forward(L, half.transpose());
  const values = new EigenvalueDecomposition(symmetric, { assumeSymmetric: true }).realEigenvalues;
  return [...values]
    .sort((a, b) => b - a)
    .slice(0, count)
    .map((v) => 1 / Math.sqrt(v) / (2 * Math.PI));
};

const forward = (L: Matrix, B: Matrix): Matrix => {
  const out = B.clone();
  for (let i = 0; i < L.rows; i++)
    for (let c = 0; c < B.columns; c++) {
      let sum = out.get(i, c);
      for (let k = 0; k < i; k++) sum -= L.get(i, k) * out.get(k, c);
      out.set(i, c, sum / L.get(i, i));
    }
  return out;
};
