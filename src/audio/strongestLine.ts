import type { BandSignal } from './bandSignal.ts';
import { realFft } from './realFft.ts';
import { scratch } from './scratch.ts';
import { type Glide, undoGlide } from './undoGlide.ts';

/**
 * The strongest line of a signal, weighted by the decay it is expected to have (a matched filter).
 * `power` is the energy that a component of that decay would take out.
 * @param samples as long as those of the band, interleaved; a glide has been undone in them.
 */
export function strongestLine(
  band: BandSignal,
  samples: Float64Array,
  reach: number,
  decay: number,
): { omega: number; power: number } {
  let size = 64;
  while (size < 2 * band.count) size *= 2;
  const padded = scratch('line', 2 * size);
  let energy = 0;
  const fall = Math.exp(-decay / band.rateHz);
  let w = 1;
  for (let i = 0; i < 2 * band.count; i += 2, w *= fall) {
    energy += w * w;
    padded[i] = w * (samples[i] as number);
    padded[i + 1] = w * (samples[i + 1] as number);
  }
  padded.fill(0, 2 * band.count);
  const bins = realFft(size).complex(padded);
  let most = -1;
  let at = 0;
  const step = (2 * Math.PI * band.rateHz) / size;
  const last = Math.min(size / 2 - 1, Math.floor(reach / step));
  for (let d = -last; d <= last; d++) {
    const k = d < 0 ? d + size : d;
    const power = (bins[2 * k] as number) ** 2 + (bins[2 * k + 1] as number) ** 2;
    if (power > most) {
      most = power;
      at = d;
    }
  }
  return { omega: at * step, power: most / energy };
}

/** A glide and the strongest line that a band shows when it is undone. */
export interface GlideLine extends Glide {
  readonly omega: number;
  readonly power: number;
}

/** The strongest line after undoing each of the glides. */
export const glideLines = (band: BandSignal, glides: readonly Glide[], reach: number): GlideLine[] =>
  glides.map(({ value, rate }) => ({
    value,
    rate,
    ...strongestLine(band, undoGlide(band, { value, rate }).undone, reach, rate / 2),
  }));
