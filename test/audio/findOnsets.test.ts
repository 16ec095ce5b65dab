import { describe, expect, it } from 'vitest';
import { findOnsets } from '../../src/audio/findOnsets.ts';
import { addNoise } from '../signals/noise.ts';
import { addPartials } from '../signals/partials.ts';
import { seededRandom } from '../signals/random.ts';

const rateHz = 48_000;
const onsetsIn = (samples: Float64Array): number[] => {
  const found: number[] = [];
  findOnsets(rateHz).push(new Float32Array(samples), ({ sample }) => found.push(sample / rateHz));
  return found;
};

describe('onsets', () => {
  it('are found where a hiss 12 dB below leaves one tone of a pluck', () => {
    const toneS = 0.3;
    const plucks = 100;
    let found = 0;
    for (let i = 0; i < plucks; i++) {
      const random = seededRandom(`lone tone${i}`);
      const tone = { amplitude: 0.1, decayS: 0.3, glides: [], riseS: 4e-4 };
      const out = new Float64Array(rateHz);
      const frequencyHz = random.uniform(450, 800);
      addPartials(out, rateHz, toneS, [{ ...tone, frequencyHz, phase: random.uniform(0, 2 * Math.PI) }]);
      // Mean power of the tone over its first half second: A²τ/4 (1 − e^(−2t/τ)) / t.
      const power = ((0.1 ** 2 * 0.3) / 4 / 0.5) * (1 - Math.exp(-1 / 0.3));
      addNoise(out, rateHz, power / 10 ** 1.2, 'pink', random);
      if (onsetsIn(out).some((s) => Math.abs(s - toneS) < 0.003)) found++;
    }
    // In five bands at once one start in seven does not show.
    expect(found).toBeGreaterThan(0.95 * plucks);
  });
  it('are none in a minute of noise and hum', () => {
    for (const colour of ['white', 'pink'] as const) {
      const random = seededRandom(`quiet ${colour}`);
      const out = new Float64Array(30 * rateHz);
      addNoise(out, rateHz, 1e-4, colour, random);
      for (let i = 0; i < out.length; i++)
        out[i] = (out[i] as number) + 0.05 * Math.sin((2 * Math.PI * 100 * i) / rateHz);
      expect(onsetsIn(out)).toEqual([]);
    }
  });
});
