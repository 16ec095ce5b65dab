import { nthSmallest } from './nthSmallest.ts';
import { windowedSpectrum } from './ringSpectrum.ts';

/** What was there before the pluck. */
export interface NoiseBefore {
  /** Broad-band one-sided density at a frequency, FS²/Hz: lines (hum, a spoke still ringing) taken out. */
  densityAt(frequencyHz: number): number;
  /** Amplitude of a line at that frequency, 0 where there is none above the noise; no more than the end of the stretch can hold. */
  lineAt(frequencyHz: number): number;
  readonly rms: number;
  readonly seconds: number;
}

const LOWEST_KNOT_HZ = 40;
const KNOTS_PER_OCTAVE = 5;
/** The end of the stretch: what does not sound there has been stopped by the hand that plucks. */
const END_S = 0.02;
/** An amplitude is at most so many times the end's effective value: √2, and as much again for beats. */
const OVER_END = 2;
/** Bins of which a median is taken. */
const MOST_BINS = 96;

/**
 * Noise and lines in the stretch before the onset.
 * One windowed transform of the whole stretch; the broad-band level is the running median of its bins divided by ln 2 (the
 * median of an exponential law against its mean), so lines do not raise it.
 * @param before samples ending a few milliseconds before the onset; undefined is returned below 30 ms.
 */
export function noiseBefore(before: Float32Array, sampleRateHz: number): NoiseBefore | undefined {
  if (before.length < 0.03 * sampleRateHz) return undefined;
  let size = 256;
  while (size < before.length) size *= 2;
  const spectrum = windowedSpectrum(before, before.length, sampleRateHz, size, 0.5);
  const { density, binHz } = spectrum;
  const knots = Math.max(2, Math.ceil(KNOTS_PER_OCTAVE * Math.log2(sampleRateHz / 2 / LOWEST_KNOT_HZ)));
  const floor = new Float64Array(knots);
  const picked = new Float64Array(MOST_BINS);
  for (let k = 0; k < knots; k++) {
    const centre = (LOWEST_KNOT_HZ * 2 ** (k / KNOTS_PER_OCTAVE)) / binHz;
    const reach = Math.max(12, 0.1 * centre);
    const from = Math.max(1, Math.floor(centre - reach));
    const to = Math.max(from + 1, Math.min(density.length - 1, Math.ceil(centre + reach)));
    const n = Math.min(MOST_BINS, to - from);
    for (let i = 0; i < n; i++) picked[i] = density[from + Math.floor((i * (to - from)) / n)] as number;
    floor[k] = Math.max(1e-24, nthSmallest(picked, n, n >> 1) / Math.LN2);
  }
  let energy = 0;
  for (let i = 0; i < before.length; i++) energy += (before[i] as number) ** 2;
  const end = Math.round(END_S * sampleRateHz);
  let endEnergy = 0;
  for (let i = before.length - end; i < before.length; i++) endEnergy += (before[i] as number) ** 2;
  const most = OVER_END * Math.sqrt(endEnergy / end);
  const densityAt = (frequencyHz: number) => {
    const x = Math.max(0, Math.min(knots - 1, KNOTS_PER_OCTAVE * Math.log2(frequencyHz / LOWEST_KNOT_HZ)));
    const i = Math.min(knots - 2, Math.floor(x));
    const f = x - i;
    return (floor[i] as number) ** (1 - f) * (floor[i + 1] as number) ** f;
  };
  return {
    densityAt,
    lineAt(frequencyHz) {
      const centre = frequencyHz / binHz;
      // As far as a peak strays, not as far as the window smears: another tone may stand beside the line.
      const reach = Math.max(0.5, 0.6 / (spectrum.windowS * binHz));
      let top = 0;
      for (let k = Math.max(1, Math.floor(centre - reach)); k <= centre + reach && k < density.length; k++)
        top = Math.max(top, density[k] as number);
      return top > 10 * densityAt(frequencyHz) ? Math.min(most, Math.sqrt(top * spectrum.toneHz)) : 0;
    },
    rms: Math.sqrt(energy / before.length),
    seconds: before.length / sampleRateHz,
  };
}
