/**
 * A finite-element judge for members that shear, of another kind than the room's equation: the deflection is the sum of one by bending (cubic
 * Hermite) and one by shear (quadratic), w = w_b + w_s, ψ = w_b′, with energies ½∫EI·w_b″², ½∫S·w_s′² and ½∫T·w′². Nothing can lock.
 * Solved dense by ml-matrix. Integrals by Gauss points.
 */
import { Matrix } from 'ml-matrix';
import type { Member } from '../../src/physics/member.ts';
import { cutMember, type Held, lowestOf } from './hermiteElements.ts';

/** Four Gauss points on 0..1, exact to degree 7. @source Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 25.4 */
const GAUSS = [
  [0.5 - 0.430568155797026, 0.173927422568727],
  [0.5 - 0.169990521792428, 0.326072577431273],
  [0.5 + 0.169990521792428, 0.326072577431273],
  [0.5 + 0.430568155797026, 0.173927422568727],
] as const;

/** Lowest frequencies in the wheel's plane, Hz. @param elementM longest element */
export const shearedModes = (
  member: Member,
  tension: number,
  held: Held,
  count: number,
  elementM: number,
): number[] => {
  const { cuts, crossingNode } = cutMember(member, elementM, 2);
  const nodes = cuts.length + 1;
  // Unknowns: w_b and ψ and w_s of each node, then w_s in the middle of each element.
  const size = 3 * nodes + cuts.length;
  const K = Matrix.zeros(size, size);
  const M = Matrix.zeros(size, size);
  const add = (to: Matrix, i: number, j: number, value: number): void => {
    to.set(i, j, to.get(i, j) + value);
  };
  cuts.forEach(({ length: l, section: { massPerLength: mass, bendingInPlane: bending, shear } }, e) => {
    if (shear === undefined) throw new RangeError('a section has no shear stiffness, expected one');
    const at = [3 * e, 3 * e + 1, 3 * e + 3, 3 * e + 4, 3 * e + 2, 3 * nodes + e, 3 * e + 5];
    for (const [x, weight] of GAUSS) {
      const shape = [...hermiteShape(x, l), x * (2 * x - 3) + 1, 4 * x * (1 - x), x * (2 * x - 1)];
      const slope = [...hermiteSlope(x, l), (4 * x - 3) / l, (4 - 8 * x) / l, (4 * x - 1) / l];
      const bent = [...hermiteBend(x, l), 0, 0, 0];
      for (let i = 0; i < 7; i++)
        for (let j = 0; j < 7; j++) {
          const of = (values: readonly number[]): number => weight * l * ((values[i] ?? 0) * (values[j] ?? 0));
          const sheared = i > 3 && j > 3 ? shear * of(slope) : 0;
          add(K, at[i] as number, at[j] as number, bending * of(bent) + tension * of(slope) + sheared);
          add(M, at[i] as number, at[j] as number, mass * of(shape));
        }
    }
  });
  add(K, 1, 1, held.hubEnd);
  add(K, 3 * nodes - 2, 3 * nodes - 2, held.rimEnd);
  const crossing = [3 * crossingNode, 3 * crossingNode + 2];
  if (held.support !== undefined) for (const i of crossing) for (const j of crossing) add(K, i, j, held.support);
  // The rim's support holds w_b + w_s = 0: the unknown w_s there is put in for −w_b.
  const [bent, sheared] = [3 * nodes - 3, 3 * nodes - 1];
  for (const matrix of [K, M]) {
    for (let i = 0; i < size; i++) add(matrix, i, bent, -matrix.get(i, sheared));
    for (let j = 0; j < size; j++) add(matrix, bent, j, -matrix.get(sheared, j));
  }
  const free = Array.from({ length: size }, (_, i) => i).filter((i) => i !== 0 && i !== 2 && i !== sheared);
  return lowestOf(K, M, free, count);
};

const hermiteShape = (x: number, l: number): number[] => [
  1 - 3 * x ** 2 + 2 * x ** 3,
  l * (x - 2 * x ** 2 + x ** 3),
  3 * x ** 2 - 2 * x ** 3,
  l * (x ** 3 - x ** 2),
];
const hermiteSlope = (x: number, l: number): number[] => [
  (6 * x ** 2 - 6 * x) / l,
  1 - 4 * x + 3 * x ** 2,
  (6 * x - 6 * x ** 2) / l,
  3 * x ** 2 - 2 * x,
];
const hermiteBend = (x: number, l: number): number[] => [
  (12 * x - 6) / l ** 2,
  (6 * x - 4) / l,
  (6 - 12 * x) / l ** 2,
  (6 * x - 2) / l,
];
