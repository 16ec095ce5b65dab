import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type RoundSettings, type SimulatedRound, simulateRound } from '../signals/round.ts';
import { encodeWav } from '../signals/wav.ts';

/** Chromium's fake microphone runs at this rate and passes such a file sample for sample. */
const RATE_HZ = 44_100;
/** The fake device repeats its last 10 ms for ever: they must be zeros. */
const ZEROS_S = 0.2;

/** Simulates a round and writes it as the 16-bit mono file that the browser's microphone hears. */
export function writeRound(settings: Omit<RoundSettings, 'rateHz'>): {
  readonly path: string;
  readonly round: SimulatedRound;
} {
  const round = simulateRound({ leadInS: 1.5, ...settings, rateHz: RATE_HZ });
  const zeros = Math.round(ZEROS_S * RATE_HZ);
  const samples = new Float32Array(round.samples.length + zeros);
  samples.set(round.samples);
  const folder = mkdtempSync(join(tmpdir(), 'ringtrue-round-'));
  const path = join(folder, 'round.wav');
  writeFileSync(path, encodeWav([samples], RATE_HZ, 'int16'));
  return { path, round };
}
