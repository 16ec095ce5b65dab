import { describe, expect, it } from 'vitest';
import type { BandSignal } from '../../src/audio/bandSignal.ts';
import { fitExponentials } from '../../src/audio/fitExponentials.ts';
import { seededRandom } from '../signals/random.ts';

const RATE = 190;
const COUNT = 120;
interface Part {
  readonly hz: number;
  readonly decay: number;
  readonly size: number;
  readonly phase: number;
}
/** Damped tones in white noise, written out from their definition; `glide` as in f(t) = f + centre·g·e^(−rate·t). */
function band(parts: readonly Part[], noise: number, seed: string, glide = 0, rate = 10): BandSignal {
  const random = seededRandom(seed);
  const centreHz = 400;
  const samples = new Float64Array(2 * COUNT);
  for (let i = 0; i < COUNT; i++) {
    const t = i / RATE;
    for (const p of parts) {
      const turned = (centreHz * glide * (1 - Math.exp(-rate * t))) / rate;
      const angle = p.phase + 2 * Math.PI * (p.hz * t + turned);
      samples[2 * i] = (samples[2 * i] as number) + p.size * Math.exp(-p.decay * t) * Math.cos(angle);
      samples[2 * i + 1] = (samples[2 * i + 1] as number) + p.size * Math.exp(-p.decay * t) * Math.sin(angle);
    }
    samples[2 * i] = (samples[2 * i] as number) + noise * random.normal();
    samples[2 * i + 1] = (samples[2 * i + 1] as number) + noise * random.normal();
  }
  return { samples, count: COUNT, rateHz: RATE, centreHz, correlation: 1 };
}
const start = (hz: number, decay = 6) => ({ omega: 2 * Math.PI * hz, decay, glides: true });
const prior = { mean: 0, sigma: 0.015, rate: 10, rateSigma: 0.3, told: false };

describe('damped exponentials', () => {
  it('are found exactly without noise', () => {
    const fit = fitExponentials(band([{ hz: 3, decay: 5, size: 1, phase: 1 }], 0, 'a'), [start(2)]);
    expect((fit.components[0]?.omega ?? 0) / 2 / Math.PI).toBeCloseTo(3, 6);
    expect(fit.components[0]?.decay).toBeCloseTo(5, 5);
  });
  it('two of a doublet are parted where they lie closer than their width', () => {
    const parts = [
      { hz: 0, decay: 4, size: 1, phase: 0.3 },
      { hz: 0.9, decay: 5, size: 0.5, phase: 2 },
    ];
    const fit = fitExponentials(band(parts, 1e-3, 'b'), [start(-0.3), start(1.4)]);
    const hz = fit.components.map((c) => c.omega / 2 / Math.PI).sort((a, b) => a - b);
    expect(Math.abs((hz[0] ?? 9) - 0)).toBeLessThan(0.05);
    expect(Math.abs((hz[1] ?? 9) - 0.9)).toBeLessThan(0.05);
  });
  it('with a glide give the frequency at zero amplitude', () => {
    const parts = [{ hz: 1, decay: 5, size: 1, phase: 0 }];
    const fit = fitExponentials(band(parts, 1e-3, 'c', 0.01), [start(1.5)], { value: 0.007, rate: 10, prior });
    expect((fit.components[0]?.omega ?? 0) / 2 / Math.PI).toBeCloseTo(1, 1);
    expect(fit.glide).toBeCloseTo(0.01, 3);
  });
  it('scatter as their covariance says', () => {
    const z: number[] = [];
    for (let i = 0; i < 120; i++) {
      const fit = fitExponentials(band([{ hz: 2, decay: 5, size: 1, phase: i }], 0.05, `d${i}`), [start(2.2)]);
      z.push(((fit.components[0]?.omega ?? 0) - 4 * Math.PI) / Math.sqrt(fit.covariance[0] ?? 0));
    }
    // Standard deviation of 120 standard normals: 1 ± 0.065; three of those.
    const spread = Math.sqrt(z.reduce((s, v) => s + v * v, 0) / z.length);
    expect(spread).toBeGreaterThan(0.8);
    expect(spread).toBeLessThan(1.2);
  });
  it('reach the Cramér–Rao bound of one damped tone', () => {
    // var ω = 2σ²/A² / Σ(n−n̄)² e^(−2an) per sample², Yao and Pandit 1995, complex noise of σ² a part.
    const a = 5 / RATE;
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    for (let n = 0; n < COUNT; n++) {
      const w = Math.exp(-2 * a * n);
      s0 += w;
      s1 += n * w;
      s2 += n * n * w;
    }
    const bound = (0.05 / Math.sqrt(s2 - (s1 * s1) / s0)) * RATE;
    const fit = fitExponentials(band([{ hz: 2, decay: 5, size: 1, phase: 1 }], 0.05, 'e'), [start(2.2)]);
    const ratio = Math.sqrt(fit.covariance[0] ?? 0) / bound;
    expect(ratio).toBeGreaterThan(0.85);
    expect(ratio).toBeLessThan(1.15);
  });
});
