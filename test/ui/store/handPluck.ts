import type { EarEvent } from '../../../src/audio/earEvent.ts';
import type { Heard } from '../../../src/contract.ts';
import { decibels, hertz, seconds } from '../../../src/units.ts';

/** What the ear would say of a pluck with these tones. */
export function handPluck(tonesHz: readonly number[], onsetS = 1): Extract<EarEvent, { kind: 'heard' }> {
  const tones = tonesHz.map((f) => ({
    frequencyHz: hertz(f),
    uHz: hertz(0.05),
    levelDb: decibels(-20),
    decayS: seconds(0.3),
    snrDb: decibels(40),
  }));
  const heard: Heard = {
    ok: true,
    onsetS: seconds(onsetS),
    sampleRateHz: hertz(48_000),
    tones,
    covarianceHz2: tones.map((_, row) => tones.map((__, column) => (row === column ? 0.0025 : 0))),
    hypotheses: [],
    flags: [],
    settings: { sampleRateHz: hertz(48_000) },
  };
  return { kind: 'heard', heard, excerpt: new Float32Array(10), excerptStartS: seconds(onsetS - 0.3) };
}

export const handRefusal = (
  reason: Extract<Extract<EarEvent, { kind: 'heard' }>['heard'], { ok: false }>['reason'],
): Extract<EarEvent, { kind: 'heard' }> => ({
  kind: 'heard',
  heard: { ok: false, reason, onsetS: seconds(1) },
  excerpt: new Float32Array(10),
  excerptStartS: seconds(0.7),
});
