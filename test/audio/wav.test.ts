import { describe, expect, it } from 'vitest';
import { decodeWav } from '../../src/audio/decodeWav.ts';
import { encodeWav } from '../../src/audio/encodeWav.ts';
import { pickChannel } from '../../src/audio/pickChannel.ts';
import { hertz } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { encodeWav as encodeElsewhere } from '../signals/wav.ts';

const random = seededRandom('wav');
const sound = (length = 500) => Float32Array.from({ length }, () => random.uniform(-0.9, 0.9));
/** Writers scale by 2^n or by 2^n − 1: up to one step apart at full scale, and half a step of rounding. */
const quantisation = { int16: 1.5 / 0x8000, int24: 1.5 / 0x800000, float32: 1e-7 } as const;

/** A file built byte by byte after the format's own description. */
function file(chunks: readonly (readonly [string, readonly number[]])[]): Uint8Array {
  const body = chunks.flatMap(([id, bytes]) => [
    ...id.split('').map((c) => c.charCodeAt(0)),
    ...u32(bytes.length),
    ...bytes,
    ...(bytes.length % 2 === 1 ? [0] : []),
  ]);
  return Uint8Array.from([...'RIFF'].map((c) => c.charCodeAt(0)).concat(u32(4 + body.length), [87, 65, 86, 69], body));
}
const u32 = (v: number) => [v & 255, (v >> 8) & 255, (v >> 16) & 255, (v >>> 24) & 255];
const u16 = (v: number) => [v & 255, (v >> 8) & 255];
const format = (encoding: number, channels: number, rate: number, bits: number) => [
  ...u16(encoding),
  ...u16(channels),
  ...u32(rate),
  ...u32((rate * channels * bits) / 8),
  ...u16((channels * bits) / 8),
  ...u16(bits),
];

describe('sound files', () => {
  for (const kind of ['int16', 'int24', 'float32'] as const)
    for (const rate of [16000, 44100, 48000, 192000])
      it(`reads ${kind} at ${rate} Hz as another writer wrote it`, () => {
        const channels: [Float32Array, Float32Array] = [sound(), sound()];
        const wav = decodeWav(encodeElsewhere(channels, rate, kind));
        if (!wav.ok) throw new Error(wav.reason);
        expect(wav.sampleRateHz).toBe(rate);
        expect(wav.channels.length).toBe(2);
        channels.forEach((samples, c) => {
          for (const [i, v] of samples.entries())
            expect(Math.abs((wav.channels[c]?.[i] ?? 9) - v)).toBeLessThanOrEqual(quantisation[kind]);
        });
      });
  it('reads 8-bit samples as unsigned around 128', () => {
    const wav = decodeWav(
      file([
        ['fmt ', format(1, 1, 16000, 8)],
        ['data', [0, 64, 128, 192, 255]],
      ]),
    );
    if (!wav.ok) throw new Error(wav.reason);
    expect([...(wav.channels[0] ?? [])]).toEqual([-1, -0.5, 0, 0.5, 127 / 128]);
  });
  it('reads 32-bit integers', () => {
    const wav = decodeWav(
      file([
        ['fmt ', format(1, 1, 48000, 32)],
        ['data', [...u32(0x40000000), ...u32(0x80000000)]],
      ]),
    );
    expect(wav.ok && [...(wav.channels[0] ?? [])]).toEqual([0.5, -1]);
  });
  it('reads the extensible header, and skips chunks it does not know', () => {
    const extensible = [
      ...format(0xfffe, 1, 48000, 16),
      ...u16(22),
      ...u16(16),
      ...u32(4),
      ...[1, 0, 0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71],
    ];
    const wav = decodeWav(
      file([
        ['LIST', [1, 2, 3]],
        ['fmt ', extensible],
        ['data', [0, 0x40, 0, 0xc0]],
      ]),
    );
    expect(wav.ok && [...(wav.channels[0] ?? [])]).toEqual([0.5, -0.5]);
  });
  it('reads a file that was cut off as far as it goes, and says so', () => {
    const whole = encodeWav([sound(1000)], hertz(48000));
    const wav = decodeWav(whole.subarray(0, 44 + 601));
    expect(wav.ok && wav.truncated).toBe(true);
    expect(wav.ok && wav.channels[0]?.length).toBe(300);
  });
  it('refuses by name what it cannot read', () => {
    const reason = (bytes: Uint8Array) => {
      const wav = decodeWav(bytes);
      return wav.ok ? 'read' : wav.reason;
    };
    expect(reason(new Uint8Array(0))).toBe('notWav');
    expect(reason(new TextEncoder().encode('OggS and more bytes than four'))).toBe('notWav');
    expect(reason(file([['data', [0, 0]]]))).toBe('noFormat');
    expect(reason(file([['fmt ', format(1, 1, 48000, 16)]]))).toBe('noSamples');
    expect(
      reason(
        file([
          ['fmt ', format(85, 1, 48000, 16)],
          ['data', [0, 0]],
        ]),
      ),
    ).toBe('encodingUnknown');
    expect(
      reason(
        file([
          ['fmt ', format(1, 1, 4000, 16)],
          ['data', [0, 0]],
        ]),
      ),
    ).toBe('rateUnsupported');
    expect(reason(file([['fmt ', [1, 0]]]))).toBe('noFormat');
  });
  it('never throws on any bytes', () => {
    for (let i = 0; i < 200; i++) {
      const bytes = encodeWav([sound(20)], hertz(48000)).slice(0, random.integer(0, 84));
      for (let k = 0; k < 4; k++) bytes[random.integer(0, Math.max(0, bytes.length - 1))] = random.integer(0, 255);
      expect(() => decodeWav(bytes)).not.toThrow();
    }
  });
  it('keeps the loud channel where the mean of two would cancel', () => {
    const left = sound();
    expect(pickChannel([left, left.map((v) => -v)])).toEqual(left);
    expect(pickChannel([left.map((v) => 0.001 * v), left])).toEqual(left);
    const mean = pickChannel([left, left.map((v) => 0.8 * v)]);
    expect(mean[7]).toBeCloseTo(0.9 * (left[7] ?? 0), 6);
  });
});
