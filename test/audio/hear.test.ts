import { describe, expect, it } from 'vitest';
import { hear } from '../../src/audio/hear.ts';
import type { Heard } from '../../src/contract.ts';
import { hertz } from '../../src/units.ts';
import { addNoise } from '../signals/noise.ts';
import { addPartials } from '../signals/partials.ts';
import type { SimulatedPluck } from '../signals/pluck.ts';
import { fullSet, singleSet } from '../signals/pluckSets.ts';
import { seededRandom } from '../signals/random.ts';

const cents = (a: number, b: number) => Math.abs(1200 * Math.log2(a / b));

function heardOf(pluck: SimulatedPluck, scale = 1, maxRingS = 0.66): Heard {
  const rate = hertz(pluck.sampleRateHz);
  const answer = hear(
    pluck.samples.map((v) => v * scale),
    { sampleRateHz: rate, onsetSample: Math.round(pluck.onsetS * rate), settings: { sampleRateHz: rate }, maxRingS },
  );
  if (!answer.ok) throw new Error(answer.reason);
  return answer;
}
const nearest = (heard: Heard, hz: number) =>
  heard.tones.reduce((a, b) => (cents(b.frequencyHz, hz) < cents(a.frequencyHz, hz) ? b : a));
const loudestTrue = (pluck: SimulatedPluck) => pluck.truth.tones.reduce((a, b) => (b.levelDb > a.levelDb ? b : a));

describe('tones of a pluck', { timeout: 60_000 }, () => {
  it('are without bias where there is no noise, for any inharmonicity', () => {
    const noiseFreeBiasCents = 0.2;
    for (const pluck of singleSet('bias', 12, Infinity)) {
      const t = loudestTrue(pluck);
      expect(cents(nearest(heardOf(pluck), t.frequencyHz).frequencyHz, t.frequencyHz)).toBeLessThan(noiseFreeBiasCents);
    }
  });
  it('do not depend on the level, over 50 dB', () => {
    const levelCents = 0.1;
    for (const pluck of singleSet('level', 6, 30, { peakDb: -3 })) {
      const { frequencyHz } = loudestTrue(pluck);
      const loud = nearest(heardOf(pluck), frequencyHz).frequencyHz;
      expect(cents(nearest(heardOf(pluck, 10 ** (-50 / 20)), frequencyHz).frequencyHz, loud)).toBeLessThan(levelCents);
    }
  });
  it('do not depend on the sampling rate, 16 to 192 kHz', () => {
    const rateCents = 0.1;
    for (const rateHz of [16000, 22050, 32000, 44100, 88200, 96000, 192000])
      for (const pluck of singleSet('rate', 2, Infinity, { rateHz, kinds: ['plain2.0'] })) {
        const { frequencyHz } = loudestTrue(pluck);
        expect(cents(nearest(heardOf(pluck), frequencyHz).frequencyHz, frequencyHz)).toBeLessThan(rateCents);
      }
  });
  it.each([0.11, 0.13, 0.145, 0.16])(
    'are the low ones too where the next pluck cuts the ring off after %s s',
    (ringS) => {
      for (const pluck of singleSet('short', 8, 30, { kinds: ['plain2.0', 'butted2.0/1.8'] })) {
        const rate = hertz(pluck.sampleRateHz);
        const onsetSample = Math.round(pluck.onsetS * rate);
        const endSample = onsetSample + Math.round(ringS * rate);
        const heard = hear(pluck.samples, {
          sampleRateHz: rate,
          onsetSample,
          endSample,
          settings: { sampleRateHz: rate },
        });
        const t = loudestTrue(pluck);
        const offCents = 5;
        expect(heard.ok && cents(nearest(heard, t.frequencyHz).frequencyHz, t.frequencyHz)).toBeLessThan(offCents);
      }
    },
  );
  it('tell decay time and level of a lone tone', () => {
    for (const pluck of singleSet('decay', 6, 40, { kinds: ['plain2.0'] })) {
      const t = loudestTrue(pluck);
      const tone = nearest(heardOf(pluck), t.frequencyHz);
      const decayPercent = 5;
      const levelDb = 0.5;
      expect(100 * Math.abs(tone.decayS / t.decayS - 1)).toBeLessThan(decayPercent);
      expect(Math.abs(tone.levelDb - t.levelDb)).toBeLessThan(levelDb);
    }
  });
  it('are none of them louder than the sound itself, however soon they die', () => {
    for (const pluck of fullSet('soon', 12, 30, { kinds: ['compositeRod', 'titanium2.0'] })) {
      const peakDb = 20 * Math.log10(pluck.samples.reduce((m, v) => Math.max(m, Math.abs(v)), 0));
      const heard = heardOf(pluck);
      expect(Math.max(...heard.tones.map((t) => t.levelDb))).toBeLessThanOrEqual(peakDb + 1e-6);
    }
  });
  it('are covered by their 95 % intervals, two planes, a glide and neighbours', () => {
    let covered = 0;
    let asked = 0;
    for (const pluck of fullSet('both planes', 40, 25)) {
      const heard = heardOf(pluck);
      const { tones } = pluck.truth;
      for (const t of tones) {
        const mate = t.pairMate === undefined ? undefined : tones[t.pairMate];
        if (!t.present || t.family === 'hub' || t.mode > 3 || t.plane === 'across') continue;
        const z = heard.tones.flatMap((h) =>
          [t, ...(mate && mate.levelDb > t.levelDb - 26 ? [mate] : [])].map((one) => ({
            off: cents(h.frequencyHz, one.frequencyHz),
            z: Math.abs(h.frequencyHz - one.frequencyHz) / h.uHz,
          })),
        );
        const best = z.reduce((a, b) => (b.off < a.off ? b : a));
        if (best.off > 35) continue;
        asked++;
        if (best.z < 1.96) covered++;
      }
    }
    // 0.95, less three standard deviations of the count of some 110 tones.
    const least = 0.95 - 3 * Math.sqrt((0.95 * 0.05) / asked);
    expect(asked).toBeGreaterThan(90);
    expect(covered / asked).toBeGreaterThan(least);
  });
  it('are given in the limit of zero amplitude, not as the glide has them', () => {
    const errors: number[] = [];
    for (const pluck of fullSet('glide', 24, 30)) {
      const loud = loudestTrue(pluck);
      const mate = loud.pairMate === undefined ? loud : (pluck.truth.tones[loud.pairMate] ?? loud);
      const heard = heardOf(pluck);
      const off = [loud, mate].map((t) => cents(nearest(heard, t.frequencyHz).frequencyHz, t.frequencyHz));
      errors.push(Math.min(...off));
    }
    // A glide of up to 2 % is up to 34 cents at the onset.
    const medianCents = 0.5;
    const worstCents = 12;
    errors.sort((a, b) => a - b);
    expect(errors[12]).toBeLessThan(medianCents);
    expect(errors[22]).toBeLessThan(worstCents);
  });
  it('come in ascending order with a symmetric covariance of their uncertainties', () => {
    for (const pluck of fullSet('order', 4, 20)) {
      const { tones, covarianceHz2 } = heardOf(pluck);
      tones.forEach((t, i) => {
        expect(t.frequencyHz).toBeGreaterThan(tones[i - 1]?.frequencyHz ?? 0);
        expect(Math.sqrt(covarianceHz2[i]?.[i] ?? 0)).toBeCloseTo(t.uHz, 9);
        for (const k of tones.keys()) expect(covarianceHz2[i]?.[k]).toBe(covarianceHz2[k]?.[i]);
      });
    }
  });
  it('keep every tone within 6 dB of the loudest', () => {
    const nearCents = 35;
    for (const pluck of fullSet('loud', 16, 20)) {
      const heard = heardOf(pluck);
      const { levelDb } = loudestTrue(pluck);
      for (const t of pluck.truth.tones)
        if (t.levelDb > levelDb - 6 && t.frequencyHz < 9000 && t.present) {
          const mate = t.pairMate === undefined ? t : (pluck.truth.tones[t.pairMate] ?? t);
          const off = [t, mate].map((x) => cents(nearest(heard, x.frequencyHz).frequencyHz, x.frequencyHz));
          expect(Math.min(...off)).toBeLessThan(nearCents);
        }
    }
  });
  it('are all there where a neighbour answers 15 to 22 Hz below', () => {
    const nearCents = 10;
    const tone = (frequencyHz: number, dB: number, decayS: number, relative: number) => {
      const glides = relative > 0 ? [{ relative, decayS: decayS / 2 }] : [];
      return { frequencyHz, amplitude: 10 ** (dB / 20), decayS, phase: 1, glides, riseS: 0 };
    };
    const rate = hertz(48_000);
    for (const hz of [280, 366, 480])
      for (const apartHz of [15, 17, 20, 22])
        for (const belowDb of [14, 17, 20])
          for (const noise of [3e-6, 1e-7]) {
            const samples = new Float64Array(rate);
            const wire = [[1, -14, 0.14] as const, [2.06, -36, 0.08] as const, [3.25, -41, 0.07] as const];
            const own = wire.map(([ratio, dB, decayS]) => tone(ratio * hz, dB, decayS, 0.008));
            addPartials(samples, rate, 0.3, [...own, tone(hz - apartHz, -14 - belowDb, 0.45, 0)]);
            addNoise(samples, rate, noise, 'white', seededRandom(`${hz} ${apartHz} ${belowDb} ${noise}`));
            const settings = { sampleRateHz: rate };
            const heard = hear(new Float32Array(samples), { sampleRateHz: rate, onsetSample: 0.3 * rate, settings });
            if (!heard.ok) throw new Error(heard.reason);
            for (const t of [hz, hz - apartHz])
              expect(cents(nearest(heard, t).frequencyHz, t), `${t} of ${hz}, ${noise}`).toBeLessThan(nearCents);
          }
  });
  it('are covered by their 95 % intervals, one plane, no glide', () => {
    let inside = 0;
    let all = 0;
    for (const pluck of singleSet('cover', 40, 20)) {
      const heard = heardOf(pluck);
      for (const t of pluck.truth.tones) {
        if (!t.present || t.mode > 4) continue;
        const tone = nearest(heard, t.frequencyHz);
        if (cents(tone.frequencyHz, t.frequencyHz) > 35) continue;
        all++;
        if (Math.abs(tone.frequencyHz - t.frequencyHz) < 1.96 * tone.uHz) inside++;
      }
    }
    // 95 % of some 150: binomial standard deviation 1.8 points.
    const leastCoverage = 0.9;
    expect(inside / all).toBeGreaterThan(leastCoverage);
  });
  it('marks mode numbers as a guess where no member is described', () => {
    const [pluck] = [...singleSet('guess', 1, 30)];
    if (!pluck) throw new Error('no pluck');
    expect(heardOf(pluck).hypotheses.every((h) => h.guess)).toBe(true);
  });
  it('demands a sound rate and an onset inside the samples', () => {
    const settings = { sampleRateHz: hertz(48000) };
    const silence = new Float32Array(48000);
    expect(() => hear(silence, { sampleRateHz: hertz(11025), onsetSample: 0, settings })).toThrow(/16000 to 192000/);
    expect(() => hear(silence, { sampleRateHz: hertz(48000), onsetSample: 48000, settings })).toThrow(/onsetSample/);
  });
  it('finds nothing in silence, and says that it is too soft', () => {
    const settings = { sampleRateHz: hertz(48000) };
    const answer = hear(new Float32Array(48000), { sampleRateHz: hertz(48000), onsetSample: 14400, settings });
    expect(answer).toMatchObject({ ok: false, reason: 'tooSoft' });
  });
});
