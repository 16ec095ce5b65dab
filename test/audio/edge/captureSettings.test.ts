import { describe, expect, it } from 'vitest';
import { bluetoothLabel, readCaptureSettings, stagesStillOn } from '../../../src/audio/edge/captureSettings.ts';

describe('what the microphone says of itself', () => {
  it('leaves out what the browser does not tell: unknown is not off', () => {
    const settings = readCaptureSettings({ echoCancellation: false }, '', 48_000);
    expect(settings).toEqual({ sampleRateHz: 48_000, echoCancellation: false });
    expect('noiseSuppression' in settings).toBe(false);
  });
  it('names every stage that is still on', () => {
    expect(stagesStillOn({ echoCancellation: true, noiseSuppression: false, autoGainControl: true })).toEqual([
      'echo cancellation',
      'gain control',
    ]);
  });
  it('takes a named kind of echo cancellation for on', () => {
    expect(stagesStillOn({ echoCancellation: 'all' } as unknown as MediaTrackSettings)).toEqual(['echo cancellation']);
  });
  it('finds nothing on where nothing is told', () => {
    expect(stagesStillOn({})).toEqual([]);
  });
  it.each(['Bluetooth Headset', 'Headset (Hands-Free)', 'USB BT microphone'])('refuses %s', (label) => {
    expect(bluetoothLabel(label)).toBe(true);
  });
  it.each(['Built-in Microphone', 'Fake Default Audio Input', 'Subtle Mic', ''])('accepts "%s"', (label) => {
    expect(bluetoothLabel(label)).toBe(false);
  });
});
