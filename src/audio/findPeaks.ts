import type { NoiseBefore } from './noiseBefore.ts';
import type { RingSpectrum } from './ringSpectrum.ts';
import { scratch } from './scratch.ts';

export interface Peak {
  readonly frequencyHz: number;
  /** Amplitude of a steady tone that would look the same, dB full scale. */
  readonly levelDb: number;
  readonly aboveNoiseDb: number;
  readonly aboveNeighboursDb: number;
}

/** A noise bin exceeds its mean by 11.5 dB once in 1.4 million. */
const OVER_NOISE_DB = 11.5;
/** Keeps thumps and the body of a knock out: they are broad. */
const OVER_NEIGHBOURS_DB = 13;
const NEIGHBOURHOOD = 0.22;
const LOWEST_HZ = 45;
const HIGHEST_HZ = 10_000;

/**
 * Spectral peaks that stand above the noise before the pluck and above their own neighbourhood.
 * Each local maximum is refined by a parabola through the logarithms of three bins, and kept if it clears 11.5 dB over the
 * noise and 13 dB over the geometric mean of ±22 % around it.
 * @returns loudest first, at most `most`.
 */
export function findPeaks(spectrum: RingSpectrum, noise: NoiseBefore | undefined, most = 32): Peak[] {
  const { density, binHz } = spectrum;
  const n = density.length;
  const logs = scratch('logs', n);
  const sums = scratch('sums of logs', n + 1);
  sums[0] = 0;
  for (let k = 0; k < n; k++) {
    logs[k] = (10 / Math.LN10) * Math.log(Math.max(density[k] as number, 1e-30));
    sums[k + 1] = (sums[k] as number) + (logs[k] as number);
  }
  const lobe = Math.max(1, Math.round(1 / (spectrum.windowS * binHz)));
  const peaks: Peak[] = [];
  const last = Math.min(n - 2, Math.floor(Math.min(HIGHEST_HZ / binHz, 0.9 * (spectrum.size / 2))));
  for (let k = Math.max(2, Math.floor(LOWEST_HZ / binHz)); k <= last; k++) {
    const here = logs[k] as number;
    const left = logs[k - 1] as number;
    const right = logs[k + 1] as number;
    if (here <= left || here < right) continue;
    // A side lobe or a ripple is not the highest within one lobe.
    if (here < (logs[Math.max(0, k - lobe)] as number) || here < (logs[Math.min(n - 1, k + lobe)] as number)) continue;
    const from = Math.max(1, Math.floor(k * (1 - NEIGHBOURHOOD)), 0);
    const to = Math.min(n - 1, Math.ceil(k * (1 + NEIGHBOURHOOD)) + lobe);
    const mean = ((sums[to + 1] as number) - (sums[from] as number)) / (to + 1 - from);
    if (here - mean < OVER_NEIGHBOURS_DB) continue;
    const curve = left - 2 * here + right;
    const shift = curve < 0 ? (0.5 * (left - right)) / curve : 0;
    const top = here - 0.25 * (left - right) * shift;
    const frequencyHz = (k + shift) * binHz;
    const aboveNoiseDb = noise ? top - 10 * Math.log10(noise.densityAt(frequencyHz)) : top - mean;
    if (aboveNoiseDb < OVER_NOISE_DB) continue;
    peaks.push({
      frequencyHz,
      levelDb: top + 10 * Math.log10(spectrum.toneHz),
      aboveNoiseDb,
      aboveNeighboursDb: here - mean,
    });
  }
  return peaks.sort((a, b) => b.levelDb - a.levelDb).slice(0, most);
}
