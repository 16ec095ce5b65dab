import { realFft } from './realFft.ts';

/** Power spectrum of the ring, seen through a window that matches its decay. */
export interface RingSpectrum {
  readonly binHz: number;
  /** Length of the transform. */
  readonly size: number;
  /** One-sided power density, FS²/Hz, bins from 0 to 11 kHz or half the rate. */
  readonly density: Float64Array;
  /** Squared amplitude that a steady tone on the bin would have, per unit of density. */
  readonly toneHz: number;
  /** Length of the window, s. */
  readonly windowS: number;
}

/** Nothing above is looked at. */
const HIGHEST_HZ = 11_000;
/** Share of the window in which it rises. */
const RISE = 0.12;

/**
 * Spectrum of a decaying sound through an asymmetric Hann window (12 % rise, 88 % fall), zero-padded.
 * The window's length follows the energy's centroid: a third of a second holds most of an ordinary ring, a short one is not
 * drowned in the noise after it.
 * @param segment samples from shortly after the onset.
 * @param size transform length, a power of two ≥ segment length.
 */
export function ringSpectrum(segment: Float32Array, sampleRateHz: number, size: number): RingSpectrum {
  const length = matchedLength(segment, sampleRateHz);
  return windowedSpectrum(segment, length, sampleRateHz, size, RISE);
}

/** The same of any stretch, through a window of the whole stretch; `rise` 0.5 is the ordinary Hann window. */
export function windowedSpectrum(
  segment: Float32Array,
  length: number,
  sampleRateHz: number,
  size: number,
  rise: number,
): RingSpectrum {
  const padded = new Float64Array(size);
  const up = Math.max(1, Math.round(length * rise));
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < length; i++) {
    const x = i < up ? (i + 0.5) / up : 1 - (i + 0.5 - up) / (length - up);
    const w = 0.5 - 0.5 * Math.cos(Math.PI * x);
    sum += w;
    squares += w * w;
    padded[i] = (segment[i] as number) * w;
  }
  const bins = realFft(size).forward(padded);
  const density = new Float64Array(Math.min(size / 2, Math.ceil((HIGHEST_HZ * size) / sampleRateHz)) + 1);
  const scale = 2 / (squares * sampleRateHz);
  for (let k = 0; k < density.length; k++)
    density[k] = scale * ((bins[2 * k] as number) ** 2 + (bins[2 * k + 1] as number) ** 2);
  return {
    binHz: sampleRateHz / size,
    size,
    density,
    // |X| = A·sum/2 for a steady tone, density = 2|X|²/(squares·fs).
    toneHz: (2 * squares * sampleRateHz) / (sum * sum),
    windowS: length / sampleRateHz,
  };
}

/** Four times the energy's centroid over the first 0.35 s, between 0.08 s and the whole, in samples. */
function matchedLength(segment: Float32Array, sampleRateHz: number): number {
  const reach = Math.min(segment.length, Math.round(0.35 * sampleRateHz));
  let energy = 0;
  let moment = 0;
  for (let i = 0; i < reach; i++) {
    const e = (segment[i] as number) ** 2;
    energy += e;
    moment += e * i;
  }
  const centroid = energy > 0 ? moment / energy : reach / 4;
  return Math.min(segment.length, Math.max(Math.round(0.08 * sampleRateHz), Math.round(4 * centroid)));
}
