import type { Refusal } from '../contract.ts';
import { type Hertz, hertz } from '../units.ts';

export interface Wav {
  readonly ok: true;
  readonly sampleRateHz: Hertz;
  /** One array per channel, full scale ±1. */
  readonly channels: readonly Float32Array<ArrayBuffer>[];
  /** The file announced more samples than it holds; what is there was read. */
  readonly truncated: boolean;
}
export type WavReason =
  | 'notWav'
  | 'noFormat'
  | 'noSamples'
  | 'encodingUnknown'
  | 'rateUnsupported'
  | 'channelsUnsupported';

const PCM = 1;
const IEEE_FLOAT = 3;
const EXTENSIBLE = 0xfffe;

const refuse = (reason: WavReason, detail: string): Refusal<WavReason> => ({ ok: false, reason, detail });

/**
 * Samples of a WAV file.
 * Walks the RIFF chunks, takes the first `fmt ` and the first `data`, and scales integers by half their range. A data chunk
 * that ends early (an interrupted recording, or a streamed file that left its size open) is read as far as it goes.
 * @param bytes the whole file: RIFF or RF64, 8/16/24/32-bit integer, 32/64-bit float, plain or extensible, 1 to 8 channels,
 *   8 to 192 kHz.
 * @source Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft 1991); WAVEFORMATEXTENSIBLE
 *   (Microsoft); EBU Tech 3306 (RF64).
 */
export function decodeWav(bytes: Uint8Array): Wav | Refusal<WavReason> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const tag = (at: number) => (at + 4 <= bytes.length ? String.fromCharCode(...bytes.subarray(at, at + 4)) : '');
  if ((tag(0) !== 'RIFF' && tag(0) !== 'RF64') || tag(8) !== 'WAVE') return refuse('notWav', 'no RIFF WAVE header');

  let encoding = 0;
  let channelCount = 0;
  let rate = 0;
  let bits = 0;
  let blockAlign = 0;
  let at = 12;
  while (at + 8 <= bytes.length) {
    const id = tag(at);
    const size = view.getUint32(at + 4, true);
    const body = at + 8;
    if (id === 'fmt ') {
      if (size < 16 || body + 16 > bytes.length) return refuse('noFormat', 'the format chunk is cut short');
      encoding = view.getUint16(body, true);
      channelCount = view.getUint16(body + 2, true);
      rate = view.getUint32(body + 4, true);
      blockAlign = view.getUint16(body + 12, true);
      bits = view.getUint16(body + 14, true);
      // The first two bytes of the sub-format's identifier are the plain encoding.
      if (encoding === EXTENSIBLE) {
        if (size < 40 || body + 26 > bytes.length)
          return refuse('noFormat', 'the extensible format chunk is cut short');
        encoding = view.getUint16(body + 24, true);
      }
    } else if (id === 'data') {
      if (rate === 0) return refuse('noFormat', 'samples come before their format');
      const announced = size === 0xffffffff || size === 0 ? bytes.length - body : size;
      const held = Math.min(announced, bytes.length - body);
      return readSamples(view, body, held, held < announced, { encoding, channelCount, rate, bits, blockAlign });
    }
    at = body + size + (size & 1);
  }
  return rate === 0 ? refuse('noFormat', 'no format chunk') : refuse('noSamples', 'no data chunk');
}

interface Format {
  readonly encoding: number;
  readonly channelCount: number;
  readonly rate: number;
  readonly bits: number;
  readonly blockAlign: number;
}

function readSamples(view: DataView, from: number, length: number, truncated: boolean, f: Format) {
  const width = f.bits / 8;
  const known =
    (f.encoding === PCM && [8, 16, 24, 32].includes(f.bits)) ||
    (f.encoding === IEEE_FLOAT && [32, 64].includes(f.bits));
  if (!known) return refuse('encodingUnknown', `encoding ${f.encoding} with ${f.bits} bits`);
  if (f.channelCount < 1 || f.channelCount > 8) return refuse('channelsUnsupported', `${f.channelCount} channels`);
  if (f.rate < 8000 || f.rate > 192_000) return refuse('rateUnsupported', `${f.rate} Hz`);
  const stride = width * f.channelCount;
  if (f.blockAlign !== stride) return refuse('noFormat', `block of ${f.blockAlign} bytes, expected ${stride}`);
  const frames = Math.floor(length / stride);
  if (frames === 0) return refuse('noSamples', 'the data chunk is empty');
  const read = reader(view, f);
  const channels = Array.from({ length: f.channelCount }, (_, c) => {
    const samples = new Float32Array(frames);
    for (let i = 0; i < frames; i++) {
      const value = read(from + i * stride + c * width);
      samples[i] = Number.isFinite(value) ? value : 0;
    }
    return samples;
  });
  return { ok: true as const, sampleRateHz: hertz(f.rate), channels, truncated };
}

function reader(view: DataView, f: Format): (at: number) => number {
  if (f.encoding === IEEE_FLOAT)
    return f.bits === 32 ? (at) => view.getFloat32(at, true) : (at) => view.getFloat64(at, true);
  if (f.bits === 8) return (at) => (view.getUint8(at) - 128) / 128;
  if (f.bits === 16) return (at) => view.getInt16(at, true) / 0x8000;
  if (f.bits === 24) return (at) => (view.getUint16(at, true) | (view.getInt8(at + 2) << 16)) / 0x800000;
  return (at) => view.getInt32(at, true) / 0x80000000;
}
