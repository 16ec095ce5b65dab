import { decodeWav } from '../decodeWav.ts';
import { pickChannel } from '../pickChannel.ts';
import type { PlayedSound } from './playedSource.ts';
import type { SourceFailure } from './soundSource.ts';

/** Rate at which compressed files are decoded; a browser resamples to whatever it is asked for. */
const DECODE_RATE_HZ = 48_000;
/** Silence after the file, so that a pluck at its very end is judged by what there is. */
const TAIL_S = 0.5;

/** A WAV file at its own rate, or any other sound file that the browser can decode, as one channel. */
export async function decodeSound(file: Blob): Promise<PlayedSound | SourceFailure> {
  let wav: ReturnType<typeof decodeWav> | undefined;
  try {
    const bytes = await file.arrayBuffer();
    wav = decodeWav(new Uint8Array(bytes));
    if (wav.ok) return soundOfSamples(pickChannel(wav.channels), wav.sampleRateHz);
    const context = new OfflineAudioContext(1, 1, DECODE_RATE_HZ);
    const decoded = await context.decodeAudioData(bytes);
    const channels = Array.from({ length: decoded.numberOfChannels }, (_, i) => decoded.getChannelData(i));
    return soundOfSamples(pickChannel(channels), decoded.sampleRate);
  } catch {
    return { ok: false, problem: 'fileUnreadable', ...(wav?.ok === false ? { wav: wav.reason } : {}) };
  }
}

/** Samples that are there already, as a source. */
export function soundOfSamples(samples: Float32Array, sampleRateHz: number): PlayedSound {
  const total = samples.length + Math.round(TAIL_S * sampleRateHz);
  let at = 0;
  return {
    sampleRateHz,
    next: (into) => {
      const length = Math.min(into.length, total - at);
      into.set(samples.subarray(at, at + length));
      at += length;
      return length;
    },
  };
}
