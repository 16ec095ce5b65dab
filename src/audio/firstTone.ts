import type { ExpectedAtTension } from '../contract.ts';
import { type Hertz, hertz } from '../units.ts';
import { decimate, decimationFor } from './downTo48k.ts';
import { findPeaks } from './findPeaks.ts';
import { noiseBefore } from './noiseBefore.ts';
import { proposeModes } from './proposeModes.ts';
import { ringSpectrum } from './ringSpectrum.ts';

/**
 * The first tone as far as 0.2 s of ring tell it, for the screen.
 * Spectral peaks only, numbered like the final ones; not refined, so good to some 0.5 %.
 * @returns undefined where nothing stands out.
 */
export function firstTone(
  samples: Float32Array,
  onset: number,
  sampleRateHz: Hertz,
  expected: readonly ExpectedAtTension[] | undefined,
): Hertz | undefined {
  const factor = decimationFor(sampleRateHz);
  const rate = sampleRateHz / factor;
  const stretch = decimate(samples, sampleRateHz, factor);
  const start = Math.round(onset / factor + 0.01 * rate);
  const ring = stretch.subarray(start);
  if (ring.length < 0.06 * rate) return undefined;
  let size = 1024;
  while (size < 2 * ring.length) size *= 2;
  const noise = noiseBefore(stretch.subarray(0, Math.max(0, Math.round(onset / factor - 0.005 * rate))), rate);
  const peaks = findPeaks(ringSpectrum(ring, rate, size), noise, 12);
  if (peaks.length === 0) return undefined;
  const best = proposeModes(
    peaks.map((p) => ({ frequencyHz: p.frequencyHz, amplitude: 10 ** (p.levelDb / 20) })),
    expected,
    1,
  )[0];
  return hertz(best ? Math.exp(best.lnFirst) : (peaks[0] as { frequencyHz: number }).frequencyHz);
}
