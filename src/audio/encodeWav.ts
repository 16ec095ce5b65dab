import type { Hertz } from '../units.ts';

/**
 * A WAV file of 16-bit integers, or of 32-bit floats where nothing may be lost.
 * Values outside ±1 are limited in the integer form and kept in the float form.
 * @param channels equally long, full scale ±1, at least one.
 * @throws RangeError when channels are missing or differ in length.
 * @source Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft 1991).
 */
export function encodeWav(
  channels: readonly Float32Array[],
  sampleRateHz: Hertz,
  kind: 'int16' | 'float32' = 'int16',
): Uint8Array<ArrayBuffer> {
  const frames = channels[0]?.length;
  if (frames === undefined) throw new RangeError('channels is empty, expected at least one');
  if (channels.some((c) => c.length !== frames))
    throw new RangeError('channels differ in length, expected equal lengths');
  const width = kind === 'int16' ? 2 : 4;
  const stride = width * channels.length;
  const dataLength = frames * stride;
  const bytes = new Uint8Array(44 + dataLength);
  const view = new DataView(bytes.buffer);
  const tag = (at: number, text: string) => {
    for (let i = 0; i < 4; i++) view.setUint8(at + i, text.charCodeAt(i));
  };
  tag(0, 'RIFF');
  view.setUint32(4, 36 + dataLength, true);
  tag(8, 'WAVE');
  tag(12, 'fmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, kind === 'int16' ? 1 : 3, true);
  view.setUint16(22, channels.length, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, sampleRateHz * stride, true);
  view.setUint16(32, stride, true);
  view.setUint16(34, width * 8, true);
  tag(36, 'data');
  view.setUint32(40, dataLength, true);
  channels.forEach((samples, c) => {
    for (let i = 0; i < frames; i++) {
      const at = 44 + i * stride + c * width;
      const value = samples[i] as number;
      if (kind === 'float32') view.setFloat32(at, value, true);
      else view.setInt16(at, Math.round(Math.max(-1, Math.min(0x7fff / 0x8000, value)) * 0x8000), true);
    }
  });
  return bytes;
}
