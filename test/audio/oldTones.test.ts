import { describe, expect, it } from 'vitest';
import { hear } from '../../src/audio/hear.ts';
import { hertz } from '../../src/units.ts';
import { addNoise } from '../signals/noise.ts';
import { addPartials } from '../signals/partials.ts';
import { type Random, seededRandom } from '../signals/random.ts';

const rateHz = 48_000;
const onsetS = 0.32;

const own = [440, 905, 1420];
const ring = (random: Random, frequencyHz: number, amplitude: number, decayS: number) => ({
  frequencyHz,
  amplitude,
  decayS,
  phase: random.uniform(0, 2 * Math.PI),
  glides: [],
  riseS: 4e-4,
});

/** A spoke of three tones, plucked while the one before rings on so many percent above, 6 dB fainter. */
function pluckBeside(seed: number, abovePercent: number): Float32Array {
  const random = seededRandom(`beside${seed}`);
  const out = new Float64Array(rateHz);
  const before = own.map((hz) => ring(random, hz * (1 + abovePercent / 100), 0.05 * Math.exp(onsetS / 0.8), 0.8));
  addPartials(out, rateHz, 0, before);
  const plucked = own.map((hz) => ring(random, hz, 0.1, 0.3));
  addPartials(out, rateHz, onsetS, plucked);
  addNoise(out, rateHz, 1e-6, 'pink', random);
  return new Float32Array(out);
}

describe('tones of the spoke before', () => {
  it('are left out, and the new ones 1.4 % beside them are not', () => {
    const cents = (a: number, b: number) => Math.abs(1200 * Math.log2(a / b));
    const offCents = 2;
    for (let seed = 0; seed < 12; seed++) {
      const onsetSample = Math.round(onsetS * rateHz);
      const settings = { sampleRateHz: hertz(rateHz) };
      const heard = hear(pluckBeside(seed, 1.4), { sampleRateHz: hertz(rateHz), onsetSample, settings });
      if (!heard.ok) throw new Error(heard.reason);
      const has = (hz: number) => heard.tones.some((t) => cents(t.frequencyHz, hz) < offCents);
      expect(own.map(has)).toEqual([true, true, true]);
      expect(own.map((hz) => has(1.014 * hz))).toEqual([false, false, false]);
      expect(heard.flags).toContain('otherSpokeRinging');
    }
  });
  it('are not those that the hand has stopped: a spoke plucked again, softer, keeps its tones', () => {
    const random = seededRandom('again');
    const out = new Float64Array(rateHz);
    addPartials(
      out,
      rateHz,
      0,
      own.map((hz) => ring(random, hz, 0.2, 0.5)),
    );
    // The finger lies on the wire for the last 40 ms.
    const touchS = onsetS - 0.04;
    for (let i = Math.round(touchS * rateHz); i < out.length; i++)
      out[i] = (out[i] as number) * Math.exp(-(i / rateHz - touchS) / 0.006);
    addPartials(
      out,
      rateHz,
      onsetS,
      own.map((hz) => ring(random, hz, 0.06, 0.5)),
    );
    addNoise(out, rateHz, 1e-6, 'pink', random);
    const heard = hear(new Float32Array(out), {
      sampleRateHz: hertz(rateHz),
      onsetSample: Math.round(onsetS * rateHz),
      settings: { sampleRateHz: hertz(rateHz) },
    });
    const found = heard.ok ? heard.tones.map((t) => Math.round(t.frequencyHz)) : [];
    expect(found).toEqual(expect.arrayContaining(own));
  });
});
