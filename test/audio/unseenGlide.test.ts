import { describe, expect, it } from 'vitest';
import { fitExponentials } from '../../src/audio/fitExponentials.ts';
import type { RingBand } from '../../src/audio/ringBand.ts';
import { unseenGlide } from '../../src/audio/unseenGlide.ts';
import { seededRandom } from '../signals/random.ts';

const RATE = 190;
const COUNT = 190;
const CENTRE_HZ = 400;
const DECAY = 6;

/** One damped tone on the band's centre in white noise, with a glide f(t) = f + centre·g·e^(−rate·t), fitted without one. */
function fittedPlain(noise: number, glide: number, glideRate: number, seed: string): RingBand {
  const random = seededRandom(seed);
  const samples = new Float64Array(2 * COUNT);
  for (let i = 0; i < COUNT; i++) {
    const t = i / RATE;
    const angle = 1 + (2 * Math.PI * CENTRE_HZ * glide * (1 - Math.exp(-glideRate * t))) / glideRate;
    samples[2 * i] = Math.exp(-DECAY * t) * Math.cos(angle) + noise * random.normal();
    samples[2 * i + 1] = Math.exp(-DECAY * t) * Math.sin(angle) + noise * random.normal();
  }
  const raw = { samples, count: COUNT, rateHz: RATE, centreHz: CENTRE_HZ, correlation: 1 };
  const fit = fitExponentials(raw, [{ omega: 0, decay: DECAY, glides: true }]);
  return {
    raw,
    peaks: [],
    centreHz: CENTRE_HZ,
    coreHz: 8,
    elapsedS: 0.02,
    startS: 0.01,
    filterS: 0.028,
    levelDb: -20,
    model: { fit, rivals: [] },
  };
}
const varianceOf = (b: RingBand) => b.model?.fit.covariance[0] ?? 0;
const unseenIn = (b: RingBand, known: number | undefined, rate: number) =>
  unseenGlide([b], known, rate).get(b)?.[0] ?? 0;

describe('a glide too small to be seen', () => {
  /**
   * A tone e^(−dt) with phase (2πfg/r)(1 − e^(−rt)), ρ = r/2d, x = 2dt: weighted with e^(−x) the phase's slope in x is ρ/(1+ρ)² and what
   * no slope takes out has variance ρ⁴/((1+ρ)⁴(1+2ρ)), so one σ of the glide pulls the frequency by √(1+2ρ)/ρ of the frequency's own σ.
   */
  it.each([0.5, 1, 2])('moves a tone by √(1+2ρ)/ρ of its σ where it dies ρ times as fast as the energy', (rho) => {
    const b = fittedPlain(1e-3, 0, 10, 'closed');
    const meanSquare = 10 / 3;
    const expected = (meanSquare * (1 + 2 * rho)) / rho ** 2;
    const finiteRecordPercent = 8;
    const got = unseenIn(b, undefined, 2 * rho * DECAY) / varianceOf(b);
    expect(100 * Math.abs(got / expected - 1)).toBeLessThan(finiteRecordPercent);
  });
  it('leaves intervals that hold the frequency at zero amplitude, which those of the fit alone do not', () => {
    let alone = 0;
    let both = 0;
    const trials = 200;
    // 1.2 σ of the glide, two of the frequency.
    const tooSmallToSee = 2e-4;
    for (let i = 0; i < trials; i++) {
      const b = fittedPlain(2e-2, tooSmallToSee, 2 * DECAY, `covered${i}`);
      const off = (b.model?.fit.components[0]?.omega ?? 9) ** 2;
      if (off < 1.96 ** 2 * varianceOf(b)) alone++;
      if (off < 1.96 ** 2 * (varianceOf(b) + unseenIn(b, undefined, 2 * DECAY))) both++;
    }
    const leastPercent = 92;
    expect((100 * both) / trials).toBeGreaterThan(leastPercent);
    const mostAlonePercent = 70;
    expect((100 * alone) / trials).toBeLessThan(mostAlonePercent);
  });
  it('is no larger than the glide that another band has shown', () => {
    const b = fittedPlain(0.1, 0, 10, 'told');
    const shown = 5e-4;
    const most = (2 * Math.PI * CENTRE_HZ * shown) ** 2;
    expect(unseenIn(b, shown, 2 * DECAY)).toBeLessThan(most);
    expect(unseenIn(b, shown, 2 * DECAY)).toBeLessThan(unseenIn(b, undefined, 2 * DECAY));
  });
});
