import type { Peak } from './findPeaks.ts';
import type { NoiseBefore } from './noiseBefore.ts';
import type { RefinedTone } from './tonesOfBand.ts';

/** A tone may be so much louder than its own continuation and still be it: beats and the spread of the estimate. */
const SAME = 1.35;
/** The same for what is seen in the spectrum, where a tone counts with its mean over the window. */
const STEADY = 1.1;
/** Two peaks this close may be two tones that beat. */
const BESIDE = 0.02;

/** Did the tone sound before the onset, and is it no louder than what would be left of it? */
export function wasThere(tone: RefinedTone, noise: NoiseBefore | undefined): boolean {
  if (!noise) return false;
  const line = noise.lineAt(tone.frequencyHz);
  // The line is seen at the middle of the stretch before; it has decayed since.
  return line > 0 && tone.amplitude < SAME * line * Math.exp(-(0.5 * noise.seconds) / tone.decayS);
}

/**
 * Peaks that were lines before the onset, no weaker than they are seen now. Where a second peak stands beside one, an old tone and a new
 * one may weaken each other between their true places: those are left to the fit.
 */
export function oldLines(peaks: readonly Peak[], noise: NoiseBefore | undefined): Peak[] {
  if (!noise) return [];
  return peaks.filter((p) => {
    const line = noise.lineAt(p.frequencyHz);
    const old = line > 0 && 10 ** (p.levelDb / 20) < STEADY * line;
    return old && !peaks.some((q) => q !== p && Math.abs(q.frequencyHz / p.frequencyHz - 1) < BESIDE);
  });
}

/** Mains hum: a line at a multiple of 50 or 60 Hz, hardly decaying. */
export const isHum = (tone: RefinedTone): boolean => tone.decayS > 0.8 && isMains(tone.frequencyHz);

/** A multiple of 50 or 60 Hz within 0.4 %, below 1 kHz. */
export const isMains = (frequencyHz: number): boolean =>
  frequencyHz < 1000 &&
  [50, 60].some((base) => {
    const n = Math.round(frequencyHz / base);
    return n > 0 && Math.abs(frequencyHz / (n * base) - 1) < 0.004;
  });
