import type { Peak } from './findPeaks.ts';
import type { NoiseBefore } from './noiseBefore.ts';
import type { RefinedTone } from './tonesOfBand.ts';

/** A tone may be so much louder than its own continuation and still be it: beats and the spread of the estimate. */
const SAME = 1.35;
/** The same for what is seen in the spectrum, where a tone counts with its mean over the window. */
const STEADY = 1.1;

/** Did the tone sound before the onset, and is it no louder than what would be left of it? */
export function wasThere(tone: RefinedTone, noise: NoiseBefore | undefined): boolean {
  if (!noise) return false;
  const line = noise.lineAt(tone.frequencyHz);
  // The line is seen at the middle of the stretch before; it has decayed since.
  return line > 0 && tone.amplitude < SAME * line * Math.exp(-(0.5 * noise.seconds) / tone.decayS);
}

/** Was this peak a line before the onset, no weaker than it is seen now? */
export function isOldLine(peak: Peak, noise: NoiseBefore | undefined): boolean {
  if (!noise) return false;
  const line = noise.lineAt(peak.frequencyHz);
  return line > 0 && 10 ** (peak.levelDb / 20) < STEADY * line;
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
