import { LOWEST_FILE_RATE_HZ } from '../audio/acceptSettings.ts';
import { createEar } from '../audio/createEar.ts';
import { decodeWav, type Wav, type WavReason } from '../audio/decodeWav.ts';
import type { EarEvent } from '../audio/earEvent.ts';
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
export interface Recording {
  readonly ok: true;
  readonly sampleRateHz: Hertz;
  readonly samples: Float32Array<ArrayBuffer>;
  /** The file announced more samples than it holds. */
  readonly truncated: boolean;
}
/** From this time on (until the next), the ear expects these tones. */
export interface ExpectedFrom {
  readonly fromS: number;
  readonly expected: readonly ExpectedAtTension[] | undefined;
}

/** Samples handed to the ear at a time: as the capture does. */
const BLOCK = 2048;

/** Reads the bytes of a WAV file into one channel. */
export function readRecording(bytes: Uint8Array): Recording | Refusal<WavReason> {
  const wav: Wav | Refusal<WavReason> = decodeWav(bytes);
  if (!wav.ok) return wav;
  if (wav.sampleRateHz < LOWEST_FILE_RATE_HZ) {
    return { ok: false, reason: 'rateUnsupported', detail: `${wav.sampleRateHz} Hz; record with 16000 Hz or more` };
  }
  return { ok: true, sampleRateHz: wav.sampleRateHz, samples: pickChannel(wav.channels), truncated: wav.truncated };
}

/**
 * Plays a recording to the ear that also listens in the app and collects what it says, in the order of the onsets.
 * @param schedule what the ear is told of the next spoke, ascending in time; empty: it numbers by ratios alone.
 */
export function hearRecording(recording: Recording, schedule: readonly ExpectedFrom[] = []): readonly HeardSound[] {
  const { sampleRateHz, samples } = recording;
  const settings: CaptureSettings = { sampleRateHz };
  const ear = createEar({ sampleRateHz, settings });
  const sounds: HeardSound[] = [];
  const take = (events: readonly EarEvent[]) => {
    for (const event of events) {
      if (event.kind !== 'heard') continue;
      const { heard, excerpt, excerptStartS } = event;
      sounds.push({ onsetS: heard.onsetS, heard, excerpt, excerptStartS });
    }
  };
  const borders = schedule.map(({ fromS }) => Math.round(fromS * sampleRateHz));
  let next = 0;
  for (let at = 0; at < samples.length; ) {
    while (next < borders.length && (borders[next] as number) <= at) ear.expect(schedule[next++]?.expected);
    const to = Math.min(at + BLOCK, borders[next] ?? samples.length, samples.length);
    take(ear.push(samples.subarray(at, to)));
    at = to;
  }
  take(ear.end());
  return sounds.sort((a, b) => a.onsetS - b.onsetS);
}
