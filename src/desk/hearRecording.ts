import { createEar } from '../audio/createEar.ts';
import { decodeWav, type WavReason } from '../audio/decodeWav.ts';
import { pickChannel } from '../audio/pickChannel.ts';
import type { CaptureSettings, ExpectedAtTension, Heard, HearRefusal, Refusal } from '../contract.ts';
import type { Hertz, Seconds } from '../units.ts';

/** One sound of a recording that began like a pluck. */
export interface HeardSound {
  readonly onsetS: Seconds;
  readonly heard: Heard | HearRefusal;
  readonly excerpt: Float32Array<ArrayBuffer>;
  readonly excerptStartS: Seconds;
}
export interface HeardRecording {
  readonly ok: true;
  readonly sampleRateHz: Hertz;
  /** In order of their onsets. */
  readonly sounds: readonly HeardSound[];
  readonly truncated: boolean;
}

/** Samples handed to the ear at a time: as the capture does. */
const BLOCK = 2048;

/** Plays the bytes of a WAV file to the ear that also listens in the app, and collects what it says. */
export function hearRecording(
  bytes: Uint8Array,
  expected: readonly ExpectedAtTension[] | undefined,
): HeardRecording | Refusal<WavReason> {
  const wav = decodeWav(bytes);
  if (!wav.ok) return wav;
  const { sampleRateHz } = wav;
  const samples = pickChannel(wav.channels);
  const settings: CaptureSettings = { sampleRateHz };
  const ear = createEar({ sampleRateHz, settings, ...(expected && { expected }) });
  const sounds: HeardSound[] = [];
  const take = (events: ReturnType<typeof ear.push>) => {
    for (const event of events) {
      if (event.kind !== 'heard') continue;
      const { heard, excerpt, excerptStartS } = event;
      sounds.push({ onsetS: heard.onsetS, heard, excerpt, excerptStartS });
    }
  };
  for (let at = 0; at < samples.length; at += BLOCK) take(ear.push(samples.subarray(at, at + BLOCK)));
  take(ear.end());
  sounds.sort((a, b) => a.onsetS - b.onsetS);
  return { ok: true, sampleRateHz, sounds, truncated: wav.truncated };
}
