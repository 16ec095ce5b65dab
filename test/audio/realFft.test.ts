import { describe, expect, it } from 'vitest';
import { realFft } from '../../src/audio/realFft.ts';
import { seededRandom } from '../signals/random.ts';

describe('the transform', () => {
  it('agrees with the sum that defines it', () => {
    const random = seededRandom('fft');
    const size = 64;
    const x = Float64Array.from({ length: size }, () => random.normal());
    const bins = realFft(size).forward(x);
    for (let k = 0; k <= size / 2; k++) {
      let re = 0;
      let im = 0;
      x.forEach((v, n) => {
        re += v * Math.cos((2 * Math.PI * k * n) / size);
        im -= v * Math.sin((2 * Math.PI * k * n) / size);
      });
      expect(bins[2 * k]).toBeCloseTo(re, 10);
      expect(bins[2 * k + 1]).toBeCloseTo(im, 10);
    }
  });
  it('gives two signals at once what it gives each, as many bins as are wanted', () => {
    const random = seededRandom('pair');
    const [x, y] = [0, 1].map(() => Float64Array.from({ length: 64 }, () => random.normal())) as [
      Float64Array,
      Float64Array,
    ];
    const alone = [x, y].map((v) => realFft(64).forward(v).slice());
    for (const bins of [33, 20]) {
      const [a, b] = [new Float64Array(2 * bins), new Float64Array(2 * bins)];
      realFft(64).forwardPair(
        Float64Array.from({ length: 128 }, (_, i) => ((i & 1) === 0 ? x : y)[i >> 1] as number),
        a,
        b,
      );
      [a, b].forEach((spectrum, k) => {
        for (const [i, v] of spectrum.entries()) expect(v).toBeCloseTo(alone[k]?.[i] as number, 12);
      });
    }
    expect(() => realFft(64).forwardPair(new Float64Array(128), new Float64Array(68), new Float64Array(68))).toThrow(
      /66 at most/,
    );
  });
  it('refuses an input that is too short, instead of giving NaN', () => {
    expect(() => realFft(64).forward(new Float64Array(63))).toThrow(RangeError);
    expect(() => realFft(64).inverse(new Float64Array(64))).toThrow(/expected 128/);
  });
  it('refuses sizes that are no power of two', () => {
    expect(() => realFft(48)).toThrow(/power of two/);
  });
  it('comes back to the samples it started from', () => {
    const random = seededRandom('inverse');
    const x = Float64Array.from({ length: 128 }, () => random.normal());
    const there = realFft(64).complex(x).slice();
    const back = realFft(64).inverse(there);
    for (const [i, v] of x.entries()) expect(back[i]).toBeCloseTo(v, 12);
  });
});
