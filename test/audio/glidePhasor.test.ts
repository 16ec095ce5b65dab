import { describe, expect, it } from 'vitest';
import { glideTurns } from '../../src/audio/glidePhasor.ts';
import { bandGain } from '../../src/audio/takeBand.ts';

describe('the phasor of a glide', () => {
  it('turned from sample to sample is the one by sine and cosine', () => {
    for (const [centreHz, glide, rate] of [
      [80, 6e-4, 2.5],
      [420, 0.013, 14],
      [420, -0.027, 70],
      [5200, 0.06, 400],
      [9000, 0.02, 6],
    ] as const) {
      const band = { samples: new Float64Array(0), count: 300, rateHz: 188, centreHz, correlation: 3 };
      const out = new Float64Array(600);
      glideTurns(band, glide, rate, out);
      for (let i = 0; i < 300; i++) {
        const angle = ((2 * Math.PI * centreHz * glide) / rate) * (1 - Math.exp((-rate * i) / 188));
        expect(Math.abs((out[2 * i] as number) - Math.cos(angle))).toBeLessThan(1e-11);
        expect(Math.abs((out[2 * i + 1] as number) - Math.sin(angle))).toBeLessThan(1e-11);
      }
    }
  });
});

describe('the gain of a band', () => {
  it('is the transform of the window', () => {
    // The four-term window of Harris 1978, table 1, over one unit of time, summed at the middles of 4000 steps.
    const gainBySum = (x: number) => {
      let sum = 0;
      for (let i = 0; i < 4000; i++) {
        const t = (i + 0.5) / 4000 - 0.5;
        const turn = 2 * Math.PI * t;
        const window = 0.35875 + 0.48829 * Math.cos(turn) + 0.14128 * Math.cos(2 * turn) + 0.01168 * Math.cos(3 * turn);
        sum += window * Math.cos(x * turn);
      }
      return sum / 4000 / 0.35875;
    };
    for (const x of [0, 1e-10, 1e-7, 0.3, 0.9999999, 1, -1.4, 2, 2.5, 3, -3.2, 3.9])
      expect(Math.abs(bandGain(x) - gainBySum(x)), `at ${x}`).toBeLessThan(1e-6);
    expect(bandGain(4)).toBe(0);
  });
});
