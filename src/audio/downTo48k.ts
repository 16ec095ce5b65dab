/**
 * Samples at a rate the analysis is made for: 16 to 64 kHz stay as they are, faster ones are divided by a whole number.
 * A Kaiser-windowed low-pass (stop band 90 dB) ends at what would fold onto the tones below 10 kHz.
 * @param factor as given by `decimationFor`.
 * @source Kaiser 1974 (window parameter from the stop band)
 */
export function decimate(samples: Float32Array, sampleRateHz: number, factor: number): Float32Array {
  if (factor === 1) return samples;
  const out = sampleRateHz / factor;
  const pass = 10_500;
  const stop = out - 10_500;
  const cut = 0.5 * (pass + stop);
  const taps = 2 * Math.ceil((90 - 8) / (2.285 * 2 * Math.PI * ((stop - pass) / sampleRateHz)) / 2) + 1;
  const half = (taps - 1) / 2;
  const beta = 0.1102 * (90 - 8.7);
  const h = new Float64Array(taps);
  let sum = 0;
  for (let i = 0; i < taps; i++) {
    const x = i - half;
    const c = (2 * cut) / sampleRateHz;
    const ideal = x === 0 ? c : Math.sin(Math.PI * c * x) / (Math.PI * x);
    h[i] = ideal * bessel0(beta * Math.sqrt(1 - (x / half) ** 2));
    sum += h[i] as number;
  }
  const made = new Float32Array(Math.floor(samples.length / factor));
  for (let m = 0; m < made.length; m++) {
    const centre = m * factor;
    let y = 0;
    const from = Math.max(0, half - centre);
    const to = Math.min(taps, samples.length - centre + half);
    for (let i = from; i < to; i++) y += (h[i] as number) * (samples[centre + i - half] as number);
    made[m] = y / sum;
  }
  return made;
}

/** 1 up to 64 kHz, then the whole number that brings the rate nearest above 44 kHz. */
export const decimationFor = (sampleRateHz: number): number =>
  sampleRateHz <= 64_000 ? 1 : Math.max(1, Math.floor(sampleRateHz / 44_000));

/** Modified Bessel function of order 0. @source Abramowitz and Stegun 9.6.10 (series) */
function bessel0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 50 && term > 1e-12 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
