import { Matrix, pseudoInverse } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { amplitude, type Point, project, sampled, undoneResidual } from '../../src/audio/dampedBasis.ts';
import { normalEquations } from '../../src/audio/normalEquations.ts';
import { seededRandom } from '../signals/random.ts';

const COUNT = 117;
const RATE = 187;
const CENTRE = 600;

/** A decaying tone in noise, and damped exponentials laid against it, of which some glide. */
function problem(glides: readonly boolean[], hasGlide: boolean) {
  const K = glides.length;
  const random = seededRandom(`basis${K}${hasGlide}`);
  const samples = new Float64Array(2 * COUNT).map(() => 0.3 * random.normal());
  for (let i = 0; i < COUNT; i++) {
    samples[2 * i] = (samples[2 * i] as number) + 5 * Math.exp(-i / 40) * Math.cos(0.2 * i);
    samples[2 * i + 1] = (samples[2 * i + 1] as number) + 5 * Math.exp(-i / 40) * Math.sin(0.2 * i);
  }
  const p = new Float64Array(2 * K + (hasGlide ? 2 : 0));
  for (let k = 0; k < K; k++) {
    p[2 * k] = 37 + random.uniform(0, 8 * (k + 1));
    p[2 * k + 1] = random.uniform(2, 9);
  }
  if (hasGlide) p.set([0.012, Math.log(9)], 2 * K);
  const band = { samples, count: COUNT, rateHz: RATE, centreHz: CENTRE, correlation: 2.7 };
  return { band, at: { p, glides, hasGlide } };
}

/** Angle of the glide at a sample, rad. */
function glideAngle({ p, hasGlide }: Point, i: number): number {
  if (!hasGlide) return 0;
  const rate = Math.exp(p[p.length - 1] as number);
  return ((2 * Math.PI * CENTRE * (p[p.length - 2] as number)) / rate) * (1 - Math.exp((-rate * i) / RATE));
}

/** The components as the columns of a real matrix: of each the real part over the imaginary one, and j times it. */
function basisOf(at: Point): Matrix {
  const phi = Matrix.zeros(2 * COUNT, 2 * at.glides.length);
  at.glides.forEach((glides, k) => {
    for (let i = 0; i < COUNT; i++) {
      const angle = ((at.p[2 * k] as number) * i) / RATE + (glides ? glideAngle(at, i) : 0);
      const size = Math.exp((-(at.p[2 * k + 1] as number) * i) / RATE);
      phi.set(i, 2 * k, size * Math.cos(angle));
      phi.set(COUNT + i, 2 * k, size * Math.sin(angle));
      phi.set(i, 2 * k + 1, -size * Math.sin(angle));
      phi.set(COUNT + i, 2 * k + 1, size * Math.cos(angle));
    }
  });
  return phi;
}

/** Amplitudes, residual and normal equations by a general least-squares library, derivatives by differences. */
function byLibrary(samples: Float64Array, at: Point) {
  const y = Matrix.columnVector(
    Array.from({ length: 2 * COUNT }, (_, u) => samples[u < COUNT ? 2 * u : 2 * (u - COUNT) + 1] as number),
  );
  const phi = basisOf(at);
  const back = pseudoInverse(phi);
  const c = back.mmul(y);
  const residual = Matrix.sub(y, phi.mmul(c));
  const jacobian = Matrix.zeros(2 * COUNT, at.p.length);
  at.p.forEach((value, u) => {
    const step = 1e-5 * Math.max(0.1, Math.abs(value));
    const moved = (by: number) => basisOf({ ...at, p: at.p.map((v, w) => (w === u ? v + by : v)) }).mmul(c);
    jacobian.setColumn(
      u,
      Matrix.sub(moved(step), moved(-step))
        .div(2 * step)
        .to1DArray(),
    );
  });
  const off = Matrix.sub(jacobian, phi.mmul(back.mmul(jacobian)));
  return {
    rss: [residual.norm() ** 2],
    c: c.to1DArray(),
    H: off.transpose().mmul(off).to1DArray(),
    // The derivative of the residual is −J.
    b: jacobian.transpose().mmul(residual).to1DArray(),
    residual: residual.to1DArray(),
  };
}

const PROBLEMS: readonly [readonly boolean[], boolean][] = [
  [[true], false],
  [[true, true, true], false],
  [[true], true],
  [[true, true], true],
  [[true, true, true, true], true],
  [[true, false], true],
  [[true, true, false, false], true],
  [[false, false], true],
];

describe('sums in closed form', () => {
  it('give the amplitudes, the residual energy and the normal equations that a general library gives', () => {
    for (const [glides, hasGlide] of PROBLEMS) {
      const { band, at } = problem(glides, hasGlide);
      const P = at.p.length;
      const H = new Float64Array(P * P);
      const b = new Float64Array(P);
      const rss = project(band, at);
      normalEquations(band, at, H, b);
      const ours = { rss: [rss], c: [...amplitude.subarray(0, 2 * glides.length)], H: [...H], b: [...b] };
      const library = byLibrary(band.samples, at);
      // Differences of a step of 1e-5 are good to some 1e-8.
      for (const [key, good] of [
        ['rss', 1e-9],
        ['c', 1e-9],
        ['H', 1e-6],
        ['b', 1e-6],
      ] as const) {
        const scale = Math.max(...library[key].map(Math.abs));
        const off = Math.max(...library[key].map((v, i) => Math.abs(v - (ours[key][i] as number))));
        expect(off / scale, `${key} of ${glides}, glide ${hasGlide}`).toBeLessThan(good);
      }
    }
  });
  it('are left for the samples where components of a mixed crowd are nearly alike', () => {
    const { band, at } = problem([true, false, false], true);
    // A sixtieth of their width apart, as the cancelling pairs of a fit that takes too many.
    at.p[4] = (at.p[2] as number) + 0.07;
    at.p[5] = at.p[3] as number;
    const P = at.p.length;
    const H = new Float64Array(P * P);
    const b = new Float64Array(P);
    const rss = project(band, at);
    expect(sampled).toBe(true);
    normalEquations(band, at, H, b);
    const library = byLibrary(band.samples, at);
    const largest = (values: readonly number[]) => Math.max(...values.map(Math.abs));
    expect(Math.abs(rss / (library.rss[0] as number) - 1)).toBeLessThan(1e-9);
    const ours = [...amplitude.subarray(0, 6)];
    expect(largest(library.c.map((v, i) => v - (ours[i] as number))) / largest(library.c)).toBeLessThan(1e-7);
    expect(largest(library.H.map((v, i) => v - (H[i] as number))) / largest(library.H)).toBeLessThan(1e-6);
  });
  it('leave the residual that a general library leaves, the glide undone', () => {
    for (const [glides, hasGlide] of PROBLEMS) {
      const { band, at } = problem(glides, hasGlide);
      const ours = undoneResidual(band, at);
      const { residual } = byLibrary(band.samples, at);
      for (let i = 0; i < COUNT; i++) {
        const angle = glideAngle(at, i);
        const re = residual[i] as number;
        const im = residual[COUNT + i] as number;
        expect(ours[2 * i]).toBeCloseTo(re * Math.cos(angle) + im * Math.sin(angle), 9);
        expect(ours[2 * i + 1]).toBeCloseTo(im * Math.cos(angle) - re * Math.sin(angle), 9);
      }
    }
  });
});
