import { describe, expect, it } from 'vitest';
import { openSums, plainSignalOn, pole, signalOn, sum } from '../../src/audio/closedSums.ts';

describe('the product of a damped exponential with a signal', () => {
  it('is the sum over its samples, of an even count and of an odd one', () => {
    for (const count of [1, 2, 3, 7, 8, 121]) {
      const signal = openSums(count);
      for (let i = 0; i < 2 * count; i++) signal[i] = Math.sin(1 + i * i);
      pole[0] = 0.97 * Math.cos(0.4);
      pole[1] = 0.97 * Math.sin(0.4);
      // Σ conj(z)^i y_i, term by term.
      let re = 0;
      let im = 0;
      for (let i = 0; i < count; i++) {
        const size = 0.97 ** i;
        const c = size * Math.cos(-0.4 * i);
        const s = size * Math.sin(-0.4 * i);
        re += c * (signal[2 * i] as number) - s * (signal[2 * i + 1] as number);
        im += c * (signal[2 * i + 1] as number) + s * (signal[2 * i] as number);
      }
      for (const product of [plainSignalOn, signalOn]) {
        product(0);
        expect(sum[0]).toBeCloseTo(re, 11);
        expect(sum[1]).toBeCloseTo(im, 11);
      }
    }
  });
});
