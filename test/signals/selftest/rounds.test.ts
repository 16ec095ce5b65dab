import { expect, test } from 'vitest';
import { round as wire } from '../catalogue.ts';
import { drawWheel } from '../drawWheel.ts';
import { richSet } from '../richPluck.ts';
import { simulateRound } from '../round.ts';
import { spokeModes } from '../spokeModes.ts';
import { uniformWheel } from '../uniformWheel.ts';
import { encodeWav } from '../wav.ts';

const wheel = uniformWheel({
  seed: 1,
  spokeCount: 8,
  leftN: 700,
  rightN: 1000,
  crossingFromHubM: { left: 0.07, right: 0.07 },
  set: { 3: 400 },
});

test('a round has its plucks in order, with one too many and one missing where asked', () => {
  const { cues, truths, samples, sampleRateHz } = simulateRound({
    seed: 5,
    spokes: wheel,
    style: 'single',
    snrDb: 25,
    plucksPerSpoke: 2,
    extraPluckAt: [2],
    missedPluckAt: [6],
    pauseBetweenSpokesS: 0.6,
    pluckEveryS: 0.5,
  });
  expect(cues.map((c) => c.spoke)).toEqual([1, 1, 2, 2, 2, 3, 3, 4, 4, 5, 5, 7, 7, 8, 8]);
  expect(truths.map((t) => t.spoke)).toEqual(cues.map((c) => c.spoke));
  expect(truths.find((t) => t.spoke === 3)?.tensionN).toBe(400);
  cues.forEach((cue, k) => {
    if (k > 0) expect(cue.timeS).toBeGreaterThan((cues[k - 1]?.timeS ?? 0) + 0.3);
    const from = Math.round(cue.timeS * sampleRateHz);
    const power = (a: number, b: number): number => samples.subarray(a, b).reduce((s, v) => s + v * v, 0) / (b - a);
    expect(power(from, from + 2000)).toBeGreaterThan(power(from - 2000, from));
  });
});

test('a rich round of a crossed wheel is heard at the tones of the finite elements, moved by no more than the rim moves them', () => {
  const drawn = drawWheel(4, { kinds: ['plain2.0'], crossed: true, spokeCounts: [20] });
  const { truths } = simulateRound({ seed: 1, spokes: drawn.spokes, style: 'rich', snrDb: 30, plucksPerSpoke: 1 });
  const rimAndGripRelative = 0.03;
  for (const { spoke, tones } of truths) {
    const own = drawn.spokes[spoke - 1];
    const still = own && spokeModes(own, 'inPlane', 4).modes.find((m) => m.family === 'segment' && m.mode === 1);
    const heard = tones.find((t) => t.plane === 'inPlane' && t.family === 'segment' && t.mode === 1);
    expect(Math.abs((heard?.frequencyHz ?? 0) / (still?.frequencyHz ?? 1) - 1)).toBeLessThan(rimAndGripRelative);
  }
});

test('every drawn wheel is described within the stated errors and partners point at each other', () => {
  for (let seed = 0; seed < 30; seed++) {
    const { spokes, described } = drawWheel(seed);
    spokes.forEach((s, i) => {
      const partner = s.partner === undefined ? undefined : spokes[s.partner - 1];
      if (partner) {
        expect(partner.partner).toBe(i + 1);
        expect(partner.side).toBe(s.side);
      }
      const length = (p: readonly { lengthM: number }[]): number => p.reduce((sum, q) => sum + q.lengthM, 0);
      const sixSigmaM = 0.003;
      expect(Math.abs(length(s.pieces) - length(described[i]?.pieces ?? []))).toBeLessThan(sixSigmaM);
    });
  }
});

test('plucks of the blind judge are finite and ring at their own tones', () => {
  for (const how of [
    { crossing: 'held', direction: 'inPlane' },
    { crossing: 'free', direction: 'across' },
  ] as const) {
    for (const pluck of richSet(2, 4, 30, how)) {
      expect(pluck.samples.every(Number.isFinite)).toBe(true);
      expect(pluck.truth.tones.some((t) => t.present)).toBe(true);
    }
  }
});

// Microsoft & IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991), RIFF WAVE.
test('WAV bytes carry their header and the samples back', () => {
  const left = Float32Array.from([0, 0.5, -0.5, 1, -1]);
  for (const [format, bytes, code] of [
    ['int16', 2, 1],
    ['int24', 3, 1],
    ['float32', 4, 3],
  ] as const) {
    const wav = encodeWav([left, left], 44100, format);
    const view = new DataView(wav.buffer);
    expect(String.fromCharCode(...wav.subarray(0, 4), ...wav.subarray(8, 12))).toBe('RIFFWAVE');
    expect(view.getUint16(20, true)).toBe(code);
    expect(view.getUint16(22, true)).toBe(2);
    expect(view.getUint32(24, true)).toBe(44100);
    expect(view.getUint32(40, true)).toBe(5 * 2 * bytes);
    expect(wav.length).toBe(44 + 5 * 2 * bytes);
  }
  const pcm = new DataView(encodeWav([left], 8000).buffer);
  expect([0, 1, 2, 3, 4].map((i) => pcm.getInt16(44 + 2 * i, true))).toEqual([0, 16384, -16383, 32767, -32767]);
});

test('a wire is as heavy and as stiff as its section says', () => {
  const piece = wire(2, 'steel', 0.27);
  expect(piece.massKgPerM).toBeCloseTo(0.02481858196, 10);
  expect(piece.bendingInPlane).toBeCloseTo(0.1515818455, 9);
});
