export type WavFormat = 'int16' | 'int24' | 'float32';

/**
 * Samples as the bytes of a RIFF/WAVE file, one channel or two (interleaved). Integers are rounded and clipped at full scale.
 * @source Microsoft & IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991); WAVE_FORMAT_IEEE_FLOAT = 3
 */
export function encodeWav(
  channels: readonly [Float32Array] | readonly [Float32Array, Float32Array],
  sampleRateHz: number,
  format: WavFormat = 'int16',
): Uint8Array<ArrayBuffer> {
  const bytes = format === 'int16' ? 2 : format === 'int24' ? 3 : 4;
  const count = channels.length;
  const frames = channels[0].length;
  if (channels.some((c) => c.length !== frames)) throw new RangeError('both channels must have the same length');
  const dataBytes = frames * count * bytes;
  const padded = dataBytes + (dataBytes % 2);
  const buffer = new Uint8Array(44 + padded);
  const view = new DataView(buffer.buffer);
  const text = (at: number, s: string): void => {
    for (let i = 0; i < s.length; i++) view.setUint8(at + i, s.charCodeAt(i));
  };
  text(0, 'RIFF');
  view.setUint32(4, 36 + padded, true);
  text(8, 'WAVEfmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, format === 'float32' ? 3 : 1, true);
  view.setUint16(22, count, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, sampleRateHz * count * bytes, true);
  view.setUint16(32, count * bytes, true);
  view.setUint16(34, bytes * 8, true);
  text(36, 'data');
  view.setUint32(40, dataBytes, true);
  let at = 44;
  for (let i = 0; i < frames; i++) {
    for (const channel of channels) {
      const v = channel[i] as number;
      if (format === 'float32') view.setFloat32(at, v, true);
      else {
        const full = format === 'int16' ? 32767 : 8388607;
        const n = Math.max(-full - 1, Math.min(full, Math.round(v * full)));
        if (format === 'int16') view.setInt16(at, n, true);
        else {
          view.setUint16(at, n & 0xffff, true);
          view.setInt8(at + 2, n >> 16);
        }
      }
      at += bytes;
    }
  }
  return buffer;
}
