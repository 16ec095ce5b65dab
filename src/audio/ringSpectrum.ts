import { realFft } from './realFft.ts';
import { scratch, zeros } from './scratch.ts';

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
/** Bands of the highest tones reach so far. */
const BANDS_TO_HZ = 12_500;
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

/** The same, and the spectrum of the segment as it is: interleaved re, im of bins from 0, overwritten by the next call. */
export function ringSpectra(
  segment: Float32Array,
  sampleRateHz: number,
  size: number,
): { ring: RingSpectrum; bins: Float64Array } {
  const length = matchedLength(segment, sampleRateHz);
  const pair = scratch('pair', 2 * size);
  for (let i = 0; i < segment.length; i++) {
    pair[2 * i] = 0;
    pair[2 * i + 1] = segment[i] as number;
  }
  pair.fill(0, 2 * segment.length);
  const window = weigh(segment, length, RISE, pair, 2);
  const wanted = 2 * Math.min(size / 2 + 1, Math.ceil((BANDS_TO_HZ * size) / sampleRateHz));
  const windowed = scratch('windowed', wanted);
  const bins = scratch('bins', wanted);
  realFft(size).forwardPair(pair, windowed, bins);
  return { ring: spectrumOf(windowed, window, length, sampleRateHz, size), bins };
}

/** The same of any stretch, through a window of the whole stretch; `rise` 0.5 is the ordinary Hann window. */
export function windowedSpectrum(
  segment: Float32Array,
  length: number,
  sampleRateHz: number,
  size: number,
  rise: number,
): RingSpectrum {
  const padded = zeros('padded', size);
  const window = weigh(segment, length, rise, padded, 1);
  return spectrumOf(realFft(size).forward(padded), window, length, sampleRateHz, size);
}

/** Sum of a window's weights, and of their squares. */
interface WindowSums {
  readonly sum: number;
  readonly squares: number;
}

/** Writes the windowed segment into every `stride`th value of `out`. */
function weigh(segment: Float32Array, length: number, rise: number, out: Float64Array, stride: number): WindowSums {
  const up = Math.max(1, Math.round(length * rise));
  const down = length - up;
  const rising = weighHalf(segment, 0, Math.min(up, length), 0.5 / up, 1 / up, out, stride);
  if (down <= 0) return rising;
  const falling = weighHalf(segment, up, length, 1 - 0.5 / down, -1 / down, out, stride);
  return { sum: rising.sum + falling.sum, squares: rising.squares + falling.squares };
}

/** Half a Hann window: ½ − ½cos(π·(first + i·step)), turned on from sample to sample. */
function weighHalf(
  segment: Float32Array,
  from: number,
  to: number,
  first: number,
  step: number,
  out: Float64Array,
  stride: number,
): WindowSums {
  const cosStep = Math.cos(Math.PI * step);
  const sinStep = Math.sin(Math.PI * step);
  let re = Math.cos(Math.PI * first);
  let im = Math.sin(Math.PI * first);
  let sum = 0;
  let squares = 0;
  for (let i = from; i < to; i++) {
    const w = 0.5 - 0.5 * re;
    sum += w;
    squares += w * w;
    out[i * stride] = (segment[i] as number) * w;
    const next = re * cosStep - im * sinStep;
    im = re * sinStep + im * cosStep;
    re = next;
  }
  return { sum, squares };
}

function spectrumOf(
  bins: Float64Array,
  { sum, squares }: WindowSums,
  length: number,
  sampleRateHz: number,
  size: number,
): RingSpectrum {
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
