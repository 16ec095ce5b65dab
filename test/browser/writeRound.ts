import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type RoundSettings, simulateRound } from '../signals/round.ts';
import { encodeWav } from '../signals/wav.ts';

/** Chromium's fake microphone runs at this rate and passes such a file sample for sample. */
export const MICROPHONE_RATE_HZ = 44_100;
/** The fake device repeats its last 10 ms for ever: they must be zeros. */
const ZEROS_S = 0.3;
/** The page opens the device when it is tapped, and needs a moment until the ear listens. */
const LEAD_IN_S = 2;

/** A walk round a wheel, with the first spoke plucked once more at its end, as mono samples. */
export function roundSamples(settings: Omit<RoundSettings, 'rateHz'>): Float32Array<ArrayBuffer> {
  const [first] = settings.spokes;
  if (!first) throw new RangeError('spokes is empty; expected a wheel');
  const { samples } = simulateRound({
    leadInS: LEAD_IN_S,
    ...settings,
    spokes: [...settings.spokes, first],
    rateHz: MICROPHONE_RATE_HZ,
  });
  const padded = new Float32Array(samples.length + Math.round(ZEROS_S * MICROPHONE_RATE_HZ));
  padded.set(samples);
  return padded;
}

/** Writes such a walk as the 16-bit mono file that the browser's microphone hears; returns its absolute path. */
export function writeRound(settings: Omit<RoundSettings, 'rateHz'>): string {
  const path = join(mkdtempSync(join(tmpdir(), 'ringtrue-round-')), 'round.wav');
  writeFileSync(path, encodeWav([roundSamples(settings)], MICROPHONE_RATE_HZ, 'int16'));
  return path;
}
