import type { BandSignal } from './bandSignal.ts';
import type { Workspace } from './workspace.ts';

/** exp(j·2π·centre·glide·(1 − e^(−rate·t))/rate) into the workspace, unless it is there already: trial fits share their glide. */
export function glidePhasor(band: BandSignal, glide: number, rate: number, { chirp, chirpOf, count }: Workspace) {
  const beta = (2 * Math.PI * band.centreHz * glide) / rate;
  const sampleRateHz = band.rateHz;
  if (chirpOf.beta === beta && chirpOf.rate === rate && chirpOf.sampleRateHz === sampleRateHz && chirpOf.count >= count)
    return;
  Object.assign(chirpOf, { beta, rate, sampleRateHz, count });
  const shrink = Math.exp(-rate / sampleRateHz);
  let left = 1;
  for (let i = 0; i < 2 * count; i += 2) {
    const angle = beta * (1 - left);
    chirp[i] = Math.cos(angle);
    chirp[i + 1] = Math.sin(angle);
    left *= shrink;
  }
}
