import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type RoundCue, type RoundSettings, simulateRound } from '../signals/round.ts';
import { encodeWav } from '../signals/wav.ts';

/** Chromium's fake microphone runs at this rate and passes such a file sample for sample. */
export const MICROPHONE_RATE_HZ = 44_100;
/** The fake device repeats its last 10 ms for ever: they must be zeros. */
const ZEROS_S = 0.3;
/** The page opens the device when it is tapped, and needs a moment until the ear listens. */
const LEAD_IN_S = 2;

export interface WrittenRound {
  /** Absolute path of the file. */
  readonly path: string;
  /** When each pluck comes, from the start of the file. */
  readonly cues: readonly RoundCue[];
}

/** A walk round a wheel, with the first spoke plucked once more at its end, as mono samples. */
export function walkWithClosing(settings: Omit<RoundSettings, 'rateHz'>): {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly cues: readonly RoundCue[];
} {
  const [first] = settings.spokes;
  if (!first) throw new RangeError('spokes is empty; expected a wheel');
  const round = simulateRound({
    leadInS: LEAD_IN_S,
    ...settings,
    spokes: [...settings.spokes, first],
    rateHz: MICROPHONE_RATE_HZ,
  });
  const samples = new Float32Array(round.samples.length + Math.round(ZEROS_S * MICROPHONE_RATE_HZ));
  samples.set(round.samples);
  return { samples, cues: round.cues };
}

/** Writes such a walk as the 16-bit mono file that the browser's microphone hears. */
export function writeRound(settings: Omit<RoundSettings, 'rateHz'>): WrittenRound {
  const { samples, cues } = walkWithClosing(settings);
  const path = join(mkdtempSync(join(tmpdir(), 'ringtrue-round-')), 'round.wav');
  writeFileSync(path, encodeWav([samples], MICROPHONE_RATE_HZ, 'int16'));
  return { path, cues };
}
