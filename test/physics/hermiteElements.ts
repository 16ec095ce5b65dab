/**
 * A finite-element judge of its own: cubic Hermite elements with consistent mass and geometric stiffness (Przemieniecki, Theory of Matrix
 * Structural Analysis, 1968, ch. 5, 11, 15), solved as a dense symmetric problem by ml-matrix. Shares no code with the room.
 */
import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { Member, Section } from '../../src/physics/member.ts';

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
  const { cuts, crossingNode } = cutMember(member, elementM);
  const size = 2 * (cuts.length + 1);
  const K = Matrix.zeros(size, size);
  const M = Matrix.zeros(size, size);
  const add = (to: Matrix, i: number, j: number, v: number): void => {
    to.set(i, j, to.get(i, j) + v);
  };
  cuts.forEach(({ length: l, section: { massPerLength: mass, bendingInPlane: bending } }, e) => {
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

/**
 * The member in elements of its own sections, one of their borders at the crossing, and which node that is (−1: none).
 * @param least elements a stretch between borders has
 */
export const cutMember = (
  { sections, crossingFromHub: x }: Member,
  elementM: number,
  least = 1,
): {
  readonly cuts: readonly { readonly length: number; readonly section: Section }[];
  readonly crossingNode: number;
} => {
  const cuts: { length: number; section: Section }[] = [];
  let at = 0;
  let crossingNode = -1;
  for (const section of sections) {
    const end = at + section.length;
    const inside = x !== undefined && x > at + 1e-9 && x < end - 1e-9;
    let from = at;
    for (const to of inside ? [x, end] : [end]) {
      const n = Math.max(least, Math.ceil((to - from) / elementM));
      for (let i = 0; i < n; i++) cuts.push({ length: (to - from) / n, section });
      if (x !== undefined && Math.abs(to - x) < 1e-9) crossingNode = cuts.length;
      from = to;
    }
    at = end;
  }
  return { cuts, crossingNode };
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
