import { describe, expect, it } from 'vitest';
import { toldGlides } from '../../src/audio/toldGlides.ts';
import type { RefinedTone } from '../../src/audio/tonesOfBand.ts';

const tone = (band: number, frequencyHz: number, glide: number, more: Partial<RefinedTone> = {}): RefinedTone => ({
  frequencyHz,
  varianceHz2: 1e-4,
  amplitude: 0.1,
  decayS: 0.2,
  snr: 1e5,
  band,
  row: 0,
  glide,
  ...more,
});
const band = (glide: number, sigma = 1e-5, components = 1) => ({
  glide,
  glideRate: 12,
  hasGlide: glide !== 0,
  parameters: 4,
  covariance: Float64Array.from({ length: 16 }, (_, i) => (i === 10 ? sigma ** 2 : 0)),
  components: new Array(components).fill(0),
});

describe('glides that the sound tells', () => {
  it('are those of the fits where they are sure, at the onset', () => {
    // The band begins when 0.9 of the glide is left.
    const [first, second] = toldGlides([tone(0, 500, 0.01), tone(1, 1000, 0.008)], [band(0.009), band(0.0072)]);
    expect(first?.relative).toBeCloseTo(0.01, 5);
    expect(second?.relative).toBeCloseTo(0.008, 5);
    expect(first?.sigma).toBeCloseTo(1e-5 / 0.9, 8);
  });
  it('are as they would be had no other band told the fit what to expect', () => {
    // Normal estimates: product of the expectation 0.008 ± 0.0027 and of what the band alone says, 0 ± 0.002. @source Bayes
    const [prior, own] = [0.0027, 0.002];
    const sigma = 1 / Math.hypot(1 / prior, 1 / own);
    const both = (0.008 * sigma ** 2) / prior ** 2;
    const told = toldGlides([tone(0, 500, 0.01), tone(1, 1000, both)], [band(0.01), band(both, sigma)])[1];
    expect(told?.relative).toBeCloseTo(0, 6);
    expect(told?.sigma).toBeCloseTo(own, 6);
  });
  it('are none where the fit knows hardly more than it expected', () => {
    expect(
      toldGlides([tone(0, 500, 0.01), tone(1, 1000, 0.008)], [band(0.01), band(0.008, 0.0025)])[1],
    ).toBeUndefined();
  });
  it('are none where several components stand in for a glide, beside a tone that glides, or nothing does', () => {
    expect(toldGlides([tone(0, 500, 0.01), tone(1, 1000, 0)], [band(0.01), band(0, 0, 3)])[1]).toBeUndefined();
    expect(toldGlides([tone(0, 500, 0.01), tone(0, 508, 0)], [band(0.01)])[1]).toBeUndefined();
    expect(toldGlides([tone(0, 500, 0), tone(1, 1000, 0)], [band(0), band(0)])).toEqual([undefined, undefined]);
  });
  it('are 0 for a tone without, to thrice the bound of one tone in noise', () => {
    const [rate, decayS, snr, hz] = [12, 0.2, 1e4, 700];
    const still = toldGlides([tone(0, 500, 0.01), tone(1, hz, 0, { decayS, snr })], [band(0.01), band(0)])[1];
    // Fisher information of phase, angular frequency and glide, 2 E/N₀ of the tone, summed over its ring. @source Kay 1993, § 3.9
    const sums = [0, 0, 0, 0, 0, 0];
    const step = 1e-5;
    for (let t = step / 2; t < 4; t += step) {
      const weight = ((2 * snr * 2) / decayS) * Math.exp((-2 * t) / decayS) * step;
      const turned = (2 * Math.PI * hz * (1 - Math.exp(-rate * t))) / rate;
      [1, t, t * t, turned, t * turned, turned * turned].forEach((v, i) => {
        sums[i] = (sums[i] as number) + weight * v;
      });
    }
    const [one, t, t2, g, tg, g2] = sums as [number, number, number, number, number, number];
    const left = g2 - (g * g * t2 - 2 * g * tg * t + tg * tg * one) / (one * t2 - t * t);
    expect(still?.relative).toBe(0);
    expect((still?.sigma ?? 0) * Math.sqrt(left)).toBeCloseTo(3, 2);
  });
});
