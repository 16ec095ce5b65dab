import type { BandSignal } from './bandSignal.ts';

/** Steps of the phase below this, rad, are turned by the series below, which is good to rounding there. */
const SMALL = 0.4;
/** Factors of the series: of the square of the step for the cosine, and for the sine over the step. */
const COS = [-1 / 2, 1 / 24, -1 / 720, 1 / 40320, -1 / 3628800] as const;
const SIN = [-1 / 6, 1 / 120, -1 / 5040, 1 / 362880, -1 / 39916800] as const;

/**
 * exp(j·2π·centre·glide·(1 − e^(−rate·t))/rate) of every sample, interleaved, into `out`.
 * The phase creeps: from one sample to the next the phasor is turned by the series of a small angle, which costs a fraction of a
 * sine and a cosine.
 */
export function glideTurns(
  { centreHz, rateHz, count }: BandSignal,
  glide: number,
  rate: number,
  out: Float64Array,
): void {
  const beta = (2 * Math.PI * centreHz * glide) / rate;
  const shrink = Math.exp(-rate / rateHz);
  let left = 1;
  let re = 1;
  let im = 0;
  for (let i = 0; i < 2 * count; i += 2) {
    out[i] = re;
    out[i + 1] = im;
    const step = beta * left * (1 - shrink);
    left *= shrink;
    if (Math.abs(step) < SMALL) {
      const s = step * step;
      const cos = 1 + s * (COS[0] + s * (COS[1] + s * (COS[2] + s * (COS[3] + s * COS[4]))));
      const sin = step * (1 + s * (SIN[0] + s * (SIN[1] + s * (SIN[2] + s * (SIN[3] + s * SIN[4])))));
      const next = re * cos - im * sin;
      im = re * sin + im * cos;
      re = next;
    } else {
      const angle = beta * (1 - left);
      re = Math.cos(angle);
      im = Math.sin(angle);
    }
  }
}
