import { ringSpectrum } from './ringSpectrum.ts';

/** Transform length; a second of sound at 48 kHz fits in. */
const SIZE = 65536;
/** The knock of the finger is left out, as the ear does. */
const AFTER_ONSET_S = 0.02;
const LONGEST_RING_S = 1;

/**
 * The spectrum of a ring as a curve for a picture: in each of `points` equal bands the highest density, in dB.
 * @param samples mono, full scale ±1
 * @param onsetSample index of the onset in `samples`
 * @returns ascending in frequency; empty where less than 64 samples follow the onset
 */
export function ringCurve(
  samples: Float32Array,
  sampleRateHz: number,
  onsetSample: number,
  { points = 480, highestHz = 6000 } = {},
): { frequencyHz: number; levelDb: number }[] {
  const from = Math.max(0, Math.round(onsetSample + AFTER_ONSET_S * sampleRateHz));
  const length = Math.min(SIZE, LONGEST_RING_S * sampleRateHz);
  const segment = samples.subarray(from, Math.min(samples.length, from + length));
  if (segment.length < 64) return [];
  const { density, binHz } = ringSpectrum(segment, sampleRateHz, SIZE);
  const bins = Math.min(density.length, Math.floor(highestHz / binHz));
  return Array.from({ length: points }, (_, i) => {
    const a = Math.floor((i * bins) / points);
    const b = Math.max(a + 1, Math.floor(((i + 1) * bins) / points));
    let most = 1e-20;
    for (let k = a; k < b; k++) most = Math.max(most, density[k] ?? 0);
    return { frequencyHz: ((a + b) / 2) * binHz, levelDb: 10 * Math.log10(most) };
  });
}
