import { describe, expect, it } from 'vitest';
import {
  momentSums,
  openSums,
  plainSignalOn,
  plainSum,
  pole,
  signalOn,
  sum,
  turned,
} from '../../src/audio/closedSums.ts';

interface Complex {
  readonly re: number;
  readonly im: number;
}
const ROOT = 0.97;
const turnOf = (i: number): number => 3 * (1 - Math.exp(-i / 20));
/** e_a: size^i turned by `step` a sample, and by a glide's phasor where it is turned. */
const exponential = (i: number, size: number, step: number, glides: boolean): Complex => {
  const angle = step * i + (glides ? turnOf(i) : 0);
  return { re: size ** i * Math.cos(angle), im: size ** i * Math.sin(angle) };
};
const signal = (i: number): Complex => ({ re: Math.sin(1 + 4 * i * i), im: Math.sin(1 + (2 * i + 1) ** 2) });
/** Σ conj(a) b i^q, term by term. */
function sumOf(count: number, q: number, a: (i: number) => Complex, b: (i: number) => Complex): Complex {
  let re = 0;
  let im = 0;
  for (let i = 0; i < count; i++) {
    const x = a(i);
    const y = b(i);
    re += i ** q * (x.re * y.re + x.im * y.im);
    im += i ** q * (x.re * y.im - x.im * y.re);
  }
  return { re, im };
}

/** Exponential 0 as it is, 1 turned by a glide, 2 a near one turned too. */
const ATOMS = [
  { size: ROOT, step: 0.4, glides: false },
  { size: 0.99, step: 0.37, glides: true },
  { size: 0.95, step: 0.41, glides: true },
] as const;
const atom = (k: number) => (i: number) => {
  const { size, step, glides } = ATOMS[k] as (typeof ATOMS)[number];
  return exponential(i, size, step, glides);
};
const interleaved = (count: number, of: (i: number) => Complex) =>
  Float64Array.from({ length: 2 * count }, (_, u) => (u % 2 === 0 ? of(u >> 1).re : of(u >> 1).im));
function open(count: number) {
  const turns = (i: number) => exponential(i, 1, 0, true);
  openSums({
    count,
    samples: interleaved(count, signal),
    turns: interleaved(count, turns),
    undone: interleaved(count, (i) => {
      const h = turns(i);
      const y = signal(i);
      return { re: h.re * y.re + h.im * y.im, im: h.re * y.im - h.im * y.re };
    }),
  });
  ATOMS.forEach(({ size, step, glides }, k) => {
    pole.set([size * Math.cos(step), size * Math.sin(step)], 2 * k);
    turned[k] = glides ? 1 : 0;
  });
}
/** Rounding of `count` terms of which the largest is count². */
const expectSum = (q: number, { re, im }: Complex, count: number) => {
  const scale = Math.max(1, count ** (q + 1));
  expect(Math.abs((sum[2 * q] as number) - re) / scale).toBeLessThan(1e-13);
  expect(Math.abs((sum[2 * q + 1] as number) - im) / scale).toBeLessThan(1e-13);
};

describe('the product of a damped exponential', () => {
  it('with a signal is the sum over its samples, of an even count and of an odd one', () => {
    for (const count of [1, 2, 3, 7, 8, 121]) {
      open(count);
      ATOMS.forEach((_, k) => {
        plainSignalOn(k);
        expectSum(0, sumOf(count, 0, atom(k), signal), count);
        signalOn(k);
        for (const q of [0, 1]) expectSum(q, sumOf(count, q, atom(k), signal), count);
      });
    }
  });
  it('with another is the sum over the samples, whether both are turned by the glide, none or one', () => {
    for (const count of [1, 2, 3, 7, 8, 121]) {
      open(count);
      ATOMS.forEach((_, a) => {
        ATOMS.forEach((_, b) => {
          plainSum(a, b);
          expectSum(0, sumOf(count, 0, atom(a), atom(b)), count);
          momentSums(a, b);
          for (const q of [0, 1, 2]) expectSum(q, sumOf(count, q, atom(a), atom(b)), count);
        });
      });
    }
  });
});
