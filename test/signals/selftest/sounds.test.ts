import { expect, test } from 'vitest';
import { drawSpoke, KINDS } from '../catalogue.ts';
import { addNoise, type NoiseColour, noiseDensity } from '../noise.ts';
import { NON_SPOKE_KINDS, nonSpokeSet } from '../nonSpokes.ts';
import { addPartials } from '../partials.ts';
import { pluckOf, simulatePluck } from '../pluck.ts';
import { fullSet, singleSet } from '../pluckSets.ts';
import { seededRandom } from '../random.ts';
import { STRESS_KINDS, stressSet } from '../stressSet.ts';

/** One-sided density at a frequency: Hann periodograms of 1024 samples, averaged. */
function densityAt(x: Float64Array, rateHz: number, hz: number): number {
  const size = 1024;
  const window = Float64Array.from({ length: size }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / size));
  let sum = 0;
  let count = 0;
  for (let from = 0; from + size <= x.length; from += size) {
    let re = 0;
    let im = 0;
    for (let i = 0; i < size; i++) {
      const v = (x[from + i] as number) * (window[i] as number);
      re += v * Math.cos((2 * Math.PI * hz * i) / rateHz);
      im += v * Math.sin((2 * Math.PI * hz * i) / rateHz);
    }
    sum += re * re + im * im;
    count++;
  }
  return (2 * sum) / count / (rateHz * 0.375 * size);
}

test('noise of a stated power has its density at every sampling rate', () => {
  for (const rateHz of [16000, 48000, 96000]) {
    for (const colour of ['white', 'pink'] as NoiseColour[]) {
      const x = new Float64Array(1024 * 400);
      addNoise(x, rateHz, 2, colour, seededRandom(`${rateHz}${colour}`));
      for (const hz of [400, 1000, 3000, 4500]) {
        const offDb = 10 * Math.log10(densityAt(x, rateHz, hz) / (2 * noiseDensity(colour, hz)));
        // 400 averages scatter by 0.22 dB; the ripple of the pink cascade is 0.2 dB.
        const toleranceDb = 1;
        expect(Math.abs(offDb), `${colour} ${rateHz} ${hz}`).toBeLessThan(toleranceDb);
      }
    }
  }
});

test('a partial keeps its frequency, its decay and its glide', () => {
  const rateHz = 48000;
  const out = new Float64Array(rateHz);
  const glides = [{ relative: 0.01, decayS: 0.1 }];
  addPartials(out, rateHz, 0.1, [{ frequencyHz: 500, amplitude: 0.5, decayS: 0.2, phase: 0.3, glides, riseS: 0 }]);
  const errorAllowed = 2e-4;
  for (let i = 4800; i < rateHz; i += 97) {
    const t = i / rateHz - 0.1;
    const phase = 0.3 + 2 * Math.PI * 500 * (t + 0.01 * 0.1 * (1 - Math.exp(-t / 0.1)));
    expect(Math.abs((out[i] as number) - 0.5 * Math.exp(-t / 0.2) * Math.cos(phase))).toBeLessThan(errorAllowed);
  }
  expect(out.subarray(0, 4800).every((v) => v === 0)).toBe(true);
});

test('the signal-to-noise ratio is that of the string over its first half second', () => {
  const random = seededRandom('snr');
  let sumDb = 0;
  const plucks = 12;
  for (let i = 0; i < plucks; i++) {
    const drawn = drawSpoke(random.fork(`spoke${i}`));
    const settings = { style: 'single', click: 0, noiseColour: 'white', peakDb: -12 } as const;
    const clean = simulatePluck(random.fork(`p${i}`), drawn, { ...settings, snrDb: Infinity });
    const noisy = simulatePluck(random.fork(`p${i}`), drawn, { ...settings, snrDb: 20 });
    const from = Math.ceil(clean.onsetS * 48000);
    let string = 0;
    for (let k = from; k < from + 24000; k++) string += (clean.samples[k] as number) ** 2 / 24000;
    let noise = 0;
    for (let k = 0; k < clean.samples.length; k++)
      noise += ((noisy.samples[k] as number) - (clean.samples[k] as number)) ** 2 / clean.samples.length;
    sumDb += (10 * Math.log10(string / noise)) / plucks;
  }
  const meanToleranceDb = 0.6;
  expect(Math.abs(sumDb - 20)).toBeLessThan(meanToleranceDb);
});

test('the same seed gives the same samples, drawn in a row or alone', () => {
  const row = [...fullSet(7, 3, 15)];
  const again = [...fullSet(7, 3, 15)];
  const third = pluckOf(seededRandom('full|7|15'), 2, { style: 'full', snrDb: 15 });
  expect(row[2]?.samples).toEqual(again[2]?.samples);
  expect(third.samples).toEqual(row[2]?.samples);
  expect([...fullSet(8, 1, 15)][0]?.samples).not.toEqual(row[0]?.samples);
});

test('the sets cover every kind, the whole range of tension and inharmonicity, and keep what they promise', () => {
  const seen = new Set<string>();
  let weak = 0;
  const n = 250;
  for (const pluck of singleSet(1, n, 25, { durationS: 0.1 })) {
    const { truth } = pluck;
    seen.add(truth.kind);
    expect(truth.tensionN).toBeGreaterThanOrEqual(150);
    expect(truth.tensionN).toBeLessThanOrEqual(1500);
    expect(truth.inharmonicity).toBeGreaterThanOrEqual(0.002);
    expect(truth.inharmonicity).toBeLessThanOrEqual(0.3);
    expect(truth.tones.every((t) => t.plane === 'inPlane')).toBe(true);
    expect(pluck.onsetS).toBeGreaterThanOrEqual(0.25);
    expect(pluck.samples.every(Number.isFinite)).toBe(true);
  }
  expect([...seen].sort()).toEqual([...KINDS].sort());
  for (const { truth } of fullSet(2, n, 25, { durationS: 0.1 })) {
    const first = truth.tones[0];
    const mate = truth.tones[first?.pairMate ?? -1];
    const split = Math.abs((mate?.frequencyHz ?? 0) / (first?.frequencyHz ?? 1) - 1);
    expect(split).toBeGreaterThan(0.0005);
    expect(split).toBeLessThan(0.02);
    expect(truth.neighbours.length).toBeGreaterThanOrEqual(1);
    const main = truth.tones.filter((t) => t.plane === 'inPlane' && t.family !== 'hub');
    if ((main[0]?.levelDb ?? 0) < (main[1]?.levelDb ?? 0) - 8) weak++;
  }
  expect(weak / n).toBeGreaterThan(0.15);
  expect(weak / n).toBeLessThan(0.6);
});

test('every class of other sounds and of spoiled plucks makes finite samples within full scale', () => {
  expect(NON_SPOKE_KINDS.length).toBeGreaterThanOrEqual(12);
  const sounds = [
    ...nonSpokeSet(3, NON_SPOKE_KINDS.length),
    ...STRESS_KINDS.flatMap((kind) => [...stressSet(kind, 3, 2)]),
  ];
  for (const { samples } of sounds) {
    const peak = samples.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
    expect(Number.isFinite(peak)).toBe(true);
    expect(peak).toBeGreaterThan(0.005);
    expect(peak).toBeLessThanOrEqual(1);
  }
});
