import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { expect, test } from 'vitest';
import { addTo, banded } from '../banded.ts';
import { lowestModes } from '../lowestModes.ts';
import { seededRandom } from '../random.ts';
import { symmetricEigen } from '../symmetricEigen.ts';

const randomSymmetric = (seed: number, n: number): number[][] => {
  const random = seededRandom(seed);
  const a = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      const v = random.normal();
      (a[i] as number[])[j] = v;
      (a[j] as number[])[i] = v;
    }
  return a;
};

test('eigenvalues of random symmetric matrices agree with ml-matrix and the vectors satisfy A v = λ v', () => {
  for (const n of [2, 3, 7, 20, 45]) {
    const a = randomSymmetric(n, n);
    const { values, vectors } = symmetricEigen(Float64Array.from(a.flat()), n);
    const reference = new EigenvalueDecomposition(new Matrix(a), { assumeSymmetric: true }).realEigenvalues.sort(
      (p, q) => p - q,
    );
    const rounding = 1e-11 * n;
    for (let k = 0; k < n; k++) {
      expect(Math.abs((values[k] as number) - (reference[k] as number))).toBeLessThan(rounding);
      for (let i = 0; i < n; i++) {
        let sum = 0;
        for (let j = 0; j < n; j++) sum += ((a[i] as number[])[j] as number) * (vectors[j * n + k] as number);
        expect(Math.abs(sum - (values[k] as number) * (vectors[i * n + k] as number))).toBeLessThan(rounding);
      }
    }
  }
});

test('the subspace of a block of two finds both of two equal modes', () => {
  const n = 40;
  const k = banded(n, 2);
  const m = banded(n, 2);
  // Two equal chains of 20, interleaved and not joined: ω² = 2 − 2 cos(jπ/21), every one twice.
  for (let i = 0; i < n; i++) {
    addTo(k, i, i, 2);
    if (i >= 2) addTo(k, i, i - 2, -1);
    addTo(m, i, i, 1);
  }
  const { omega } = lowestModes(k, m, 6, 2);
  const rounding = 1e-9;
  [1, 1, 2, 2, 3, 3].forEach((j, i) => {
    expect(Math.abs((omega[i] as number) - Math.sqrt(2 - 2 * Math.cos((j * Math.PI) / 21)))).toBeLessThan(rounding);
  });
});
