import { describe, expect, it } from 'vitest';
import { normalEquations, project } from '../../src/audio/dampedBasis.ts';
import { workspace } from '../../src/audio/workspace.ts';
import { seededRandom } from '../signals/random.ts';

/** A decaying tone in noise, and K damped exponentials laid against it. */
function problem(K: number, hasGlide: boolean) {
  const random = seededRandom(`basis${K}${hasGlide}`);
  const count = 117;
  const samples = new Float64Array(2 * count).map(() => 0.3 * random.normal());
  for (let i = 0; i < count; i++) {
    samples[2 * i] = (samples[2 * i] as number) + 5 * Math.exp(-i / 40) * Math.cos(0.2 * i);
    samples[2 * i + 1] = (samples[2 * i + 1] as number) + 5 * Math.exp(-i / 40) * Math.sin(0.2 * i);
  }
  const p = new Float64Array(2 * K + (hasGlide ? 2 : 0));
  for (let k = 0; k < K; k++) {
    p[2 * k] = 37 + random.uniform(0, 8 * (k + 1));
    p[2 * k + 1] = random.uniform(2, 9);
  }
  if (hasGlide) p.set([0.012, Math.log(9)], 2 * K);
  const band = { samples, count, rateHz: 187, centreHz: 600, correlation: 2.7 };
  return { band, at: { p, glides: Array.from({ length: K }, () => true), hasGlide }, work: workspace(count, K) };
}

describe('sums in closed form', () => {
  it('give the amplitudes, the residual and the normal equations that the samples give', () => {
    for (const [K, hasGlide] of [
      [1, false],
      [3, false],
      [1, true],
      [2, true],
      [4, true],
    ] as const) {
      const { band, at, work } = problem(K, hasGlide);
      const P = at.p.length;
      const [closed, sampled] = [false, true].map((bySamples) => {
        const H = new Float64Array(P * P);
        const b = new Float64Array(P);
        project(band, at, work, bySamples);
        normalEquations(band, at, work, H, b);
        return { rss: [work.rss], c: [...work.c], H: [...H], b: [...b] };
      });
      if (!closed || !sampled) throw new Error('no answer');
      for (const key of ['rss', 'c', 'H', 'b'] as const) {
        const scale = Math.max(...sampled[key].map(Math.abs));
        const off = Math.max(...sampled[key].map((v, i) => Math.abs(v - (closed[key][i] as number))));
        expect(off / scale, `${key} of ${K}`).toBeLessThan(1e-9);
      }
    }
  });
});
