import type { Random } from './random.ts';

export type NoiseColour = 'white' | 'pink';
/** The band in which the noise power of a stated signal-to-noise ratio counts. */
export const NOISE_BAND_HZ = { low: 20, high: 24000 } as const;

const TABLE_BITS = 16;
let quantiles: Float64Array | undefined;
/** Normal quantiles at 65536 even probabilities. @source Acklam (2003), rational approximation of the inverse normal, relative error 1.2e-9 */
function normalTable(): Float64Array {
  if (!quantiles) {
    const size = 1 << TABLE_BITS;
    quantiles = Float64Array.from({ length: size }, (_, i) => normalQuantile((i + 0.5) / size));
  }
  return quantiles;
}

function normalQuantile(p: number): number {
  const a = [
    -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716, 2.506628277459239,
  ];
  const b = [-54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572];
  const c = [
    -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
    2.938163982698783,
  ];
  const d = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416];
  const poly = (k: readonly number[], x: number): number => k.reduce((sum, v) => sum * x + v, 0);
  if (p < 0.02425) {
    const q = Math.sqrt(-2 * Math.log(p));
    return poly(c, q) / (poly(d, q) * q + 1);
  }
  if (p > 1 - 0.02425) return -normalQuantile(1 - p);
  const q = p - 0.5;
  const r = q * q;
  return (poly(a, r) * q) / (poly(b, r) * r + 1);
}

/**
 * Adds stationary noise. White: constant density; pink: density ∝ 1/f by a cascade of pole–zero pairs spaced by a factor of 3.
 * `power` is the mean square that the noise has between 20 Hz and 24 kHz, whatever the sampling rate (a slower rate cuts its part off).
 */
export function addNoise(out: Float64Array, rateHz: number, power: number, colour: NoiseColour, random: Random): void {
  if (power <= 0) return;
  const table = normalTable();
  let state = (random.integer(1, 0x7ffffffe) ^ 0x5bd1e995) | 1;
  const white = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return table[(state >>> 8) & 0xffff] as number;
  };
  for (let i = 0; i < 32; i++) white();
  if (colour === 'white') {
    const sd = Math.sqrt(((power / (NOISE_BAND_HZ.high - NOISE_BAND_HZ.low)) * rateHz) / 2);
    for (let i = 0; i < out.length; i++) out[i] = (out[i] as number) + sd * white();
    return;
  }
  const filter = pinkFilter(rateHz);
  const sections = filter.poles.length;
  const memory = new Float64Array(sections);
  const gain = filter.gain * Math.sqrt(power);
  const skip = Math.ceil(rateHz * 0.1);
  for (let i = -skip; i < out.length; i++) {
    let v = white();
    for (let k = 0; k < sections; k++) {
      const m = memory[k] as number;
      const w = v + (filter.poles[k] as number) * m;
      v = w - (filter.zeros[k] as number) * m;
      memory[k] = w;
    }
    if (i >= 0) out[i] = (out[i] as number) + gain * v;
  }
}

/** One-sided density of the noise at a frequency, per hertz, for a total power of 1 in the band. */
export const noiseDensity = (colour: NoiseColour, hz: number): number =>
  colour === 'white'
    ? 1 / (NOISE_BAND_HZ.high - NOISE_BAND_HZ.low)
    : 1 / (Math.log(NOISE_BAND_HZ.high / NOISE_BAND_HZ.low) * Math.max(hz, NOISE_BAND_HZ.low));

interface PinkFilter {
  readonly poles: readonly number[];
  readonly zeros: readonly number[];
  readonly gain: number;
}
const pinkFilters = new Map<number, PinkFilter>();
function pinkFilter(rateHz: number): PinkFilter {
  const known = pinkFilters.get(rateHz);
  if (known) return known;
  const poles: number[] = [];
  const zeros: number[] = [];
  for (let f = 20; f < rateHz * 0.4; f *= 3) {
    poles.push(Math.exp((-2 * Math.PI * f) / rateHz));
    zeros.push(Math.exp((-2 * Math.PI * f * Math.sqrt(3)) / rateHz));
  }
  // Gain: the density of the filtered unit noise (2/rate · |H|²) is matched to the wanted one in the mean of the logarithm, 60 Hz to 0.2 rate.
  let sum = 0;
  let count = 0;
  for (let f = 60; f < rateHz * 0.2; f *= 1.1) {
    const w = (2 * Math.PI * f) / rateHz;
    let power = 1;
    poles.forEach((p, k) => {
      const z = zeros[k] as number;
      power *= (1 + z * z - 2 * z * Math.cos(w)) / (1 + p * p - 2 * p * Math.cos(w));
    });
    sum += Math.log(noiseDensity('pink', f) / ((2 / rateHz) * power));
    count++;
  }
  const filter = { poles, zeros, gain: Math.exp(sum / count / 2) };
  pinkFilters.set(rateHz, filter);
  return filter;
}
