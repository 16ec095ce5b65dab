import { expect, it } from 'vitest';
import { acceptSettings } from '../../src/audio/acceptSettings.ts';
import { hertz } from '../../src/units.ts';

const off = { echoCancellation: false, noiseSuppression: false, autoGainControl: false };

it('a live input at 8 to 24 kHz is a headset and is refused', () => {
  for (const rate of [8000, 16000, 24000])
    expect(acceptSettings({ sampleRateHz: hertz(rate), ...off }, 'live')).toMatchObject({ reason: 'rateTooLow' });
});
it('a file at 16 kHz is taken, at 11.025 kHz it is not', () => {
  expect(acceptSettings({ sampleRateHz: hertz(16000) }, 'file').ok).toBe(true);
  expect(acceptSettings({ sampleRateHz: hertz(11025) }, 'file').ok).toBe(false);
});
it('a live input that is still edited is refused, naming the stage', () => {
  const answer = acceptSettings({ sampleRateHz: hertz(48000), ...off, noiseSuppression: true }, 'live');
  expect(answer).toMatchObject({ ok: false, reason: 'processed', detail: 'noiseSuppression' });
});
it('a stage of which nothing is said is a warning: unknown is not off', () => {
  const answer = acceptSettings({ sampleRateHz: hertz(44100), echoCancellation: false }, 'live');
  expect(answer).toEqual({ ok: true, warnings: ['noiseSuppressionUnknown', 'autoGainControlUnknown'] });
});
