import { windowedSpectrum } from './ringSpectrum.ts';

/** What was there before the pluck. */
export interface NoiseBefore {
  /** Broad-band one-sided density at a frequency, FS²/Hz: lines (hum, a spoke still ringing) taken out. */
  densityAt(frequencyHz: number): number;
  /** Amplitude of a line at that frequency, 0 where there is none above the noise. */
  lineAt(frequencyHz: number): number;
  readonly rms: number;
  readonly seconds: number;
}

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
  // A knot every half window width, finer than which the median cannot follow anyway.
  const span = Math.max(8, Math.round(40 / binHz));
  const knots = Math.ceil(density.length / span);
  const floor = new Float64Array(knots);
  for (let k = 0; k < knots; k++) {
    const centre = k * span + (span >> 1);
    const reach = Math.max(span, Math.round(centre * 0.12));
    const from = Math.max(1, centre - reach);
    const to = Math.min(density.length - 1, centre + reach);
    const stride = Math.max(1, Math.floor((to - from) / 96));
    const sample: number[] = [];
    for (let i = from; i < to; i += stride) sample.push(density[i] as number);
    sample.sort((a, b) => a - b);
    floor[k] = Math.max(1e-24, (sample[sample.length >> 1] ?? 0) / Math.LN2);
  }
  let energy = 0;
  for (let i = 0; i < before.length; i++) energy += (before[i] as number) ** 2;
  const densityAt = (frequencyHz: number) => {
    const x = Math.max(0, Math.min(knots - 1, frequencyHz / binHz / span - 0.5));
    const i = Math.min(knots - 2, Math.floor(x));
    if (knots < 2) return floor[0] as number;
    const f = x - i;
    return Math.exp((1 - f) * Math.log(floor[i] as number) + f * Math.log(floor[i + 1] as number));
  };
  return {
    densityAt,
    lineAt(frequencyHz) {
      const centre = frequencyHz / binHz;
      const reach = Math.max(2, Math.round(3 / (spectrum.windowS * binHz)));
      let most = 0;
      for (let k = Math.max(1, Math.floor(centre - reach)); k <= centre + reach && k < density.length; k++)
        most = Math.max(most, density[k] as number);
      return most > 10 * densityAt(frequencyHz) ? Math.sqrt(most * spectrum.toneHz) : 0;
    },
    rms: Math.sqrt(energy / before.length),
    seconds: before.length / sampleRateHz,
  };
}
