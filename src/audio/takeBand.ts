import type { BandSignal } from './bandSignal.ts';
import { realFft } from './realFft.ts';

/** Blackman–Harris, four terms: side lobes below −92 dB. @source Harris 1978, Proc. IEEE 66:51, table 1 */
const TERMS = [0.35875, 0.48829, 0.14128, 0.01168] as const;
/** Noise bandwidth of that window in units of 1/length. @source Harris 1978, table 1 */
const NOISE_BANDWIDTH = 2.004;

/** Gain of the band filter at `x` = offset × filter length, 1 at the centre; nothing beyond the first zero, x = 4. */
export function bandGain(x: number): number {
  if (Math.abs(x) >= 4) return 0;
  // The window's transform is a sum of sin(πz)/(πz) about the whole numbers −3 … 3, all of one sine; on one of them the others are 0.
  const whole = Math.round(x);
  if (Math.abs(x - whole) < 1e-9) return whole === 0 ? 1 : (0.5 * (TERMS[Math.abs(whole)] ?? 0)) / TERMS[0];
  const x2 = x * x;
  const sum = TERMS[0] - (TERMS[1] * x2) / (x2 - 1) + (TERMS[2] * x2) / (x2 - 4) - (TERMS[3] * x2) / (x2 - 9);
  return (sum * Math.sin(Math.PI * x)) / (Math.PI * x * TERMS[0]);
}

export interface LongSpectrum {
  /** Interleaved re, im of bins from 0 of the unweighted segment, zero-padded to `size`; to size/2 or as high as tones are looked for. */
  readonly bins: Float64Array;
  readonly size: number;
  readonly sampleRateHz: number;
  /** Samples of the segment. */
  readonly length: number;
}

/**
 * One narrow band of a segment, heterodyned to its centre and decimated.
 * The long spectrum is weighted by the transform of a Blackman–Harris window and brought back by a short inverse transform:
 * the same as filtering by that window and keeping only the outputs that lie wholly inside the segment, so a damped
 * exponential stays one.
 * @param centreHz snapped to the nearest bin; the result tells the centre used.
 * @param leastFilterS length of the filter, s, lengthened to suit the transform; the band is some 2/length wide.
 * @returns the signal, the time of its first sample from the segment's start, and the filter's length, s.
 */
export function takeBand(
  spectrum: LongSpectrum,
  centreHz: number,
  leastFilterS: number,
): { band: BandSignal; startS: number; filterS: number } {
  const binHz = spectrum.sampleRateHz / spectrum.size;
  const centre = Math.round(centreHz / binHz);
  // 5.5/length keeps what folds over to outside the band's core.
  let M = 16;
  while (2 * M * binHz <= 5.5 / leastFilterS) M *= 2;
  const filterS = Math.max(leastFilterS, 5.5 / (M * binHz));
  const reach = Math.floor(4 / filterS / binHz);
  const folded = new Float64Array(2 * M);
  const end = Math.min(spectrum.size, spectrum.bins.length) / 2;
  for (let d = -reach; d <= reach; d++) {
    const k = centre + d;
    if (k < 1 || k >= end) continue;
    const gain = bandGain(d * binHz * filterS);
    const at = 2 * (((d % M) + M) % M);
    folded[at] = (folded[at] as number) + gain * (spectrum.bins[2 * k] as number);
    folded[at + 1] = (folded[at + 1] as number) + gain * (spectrum.bins[2 * k + 1] as number);
  }
  const time = realFft(M).inverse(folded);
  const rateHz = M * binHz;
  const first = Math.ceil((filterS / 2) * rateHz);
  const last = Math.floor((spectrum.length / spectrum.sampleRateHz - filterS / 2) * rateHz);
  const count = Math.max(0, Math.min(M, last) - first);
  const samples = new Float64Array(2 * count);
  // 2: the other half of the real signal's amplitude lies at the negative frequency.
  const scale = (2 * M) / spectrum.size;
  for (let i = 0; i < 2 * count; i++) samples[i] = scale * (time[2 * first + i] as number);
  return {
    band: {
      samples,
      count,
      rateHz,
      centreHz: centre * binHz,
      correlation: Math.max(1, (rateHz * filterS) / NOISE_BANDWIDTH),
    },
    startS: first / rateHz,
    filterS,
  };
}
