import type { BandSignal } from './bandSignal.ts';
import type { Workspace } from './workspace.ts';

/** Steps of the phase below this, rad, are turned by the series below, which is good to rounding there. */
const SMALL = 0.4;

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
      const cos = 1 - (s / 2) * (1 - (s / 12) * (1 - (s / 30) * (1 - (s / 56) * (1 - s / 90))));
      const sin = step * (1 - (s / 6) * (1 - (s / 20) * (1 - (s / 42) * (1 - (s / 72) * (1 - s / 110)))));
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

/** The glide's phasor into the workspace, unless it is there already: trial fits share their glide. */
export function glidePhasor(band: BandSignal, glide: number, rate: number, { chirp, chirpOf, count }: Workspace) {
  const beta = (2 * Math.PI * band.centreHz * glide) / rate;
  const sampleRateHz = band.rateHz;
  if (chirpOf.beta === beta && chirpOf.rate === rate && chirpOf.sampleRateHz === sampleRateHz && chirpOf.count >= count)
    return;
  Object.assign(chirpOf, { beta, rate, sampleRateHz, count });
  glideTurns(band, glide, rate, chirp);
}
