import type { CaptureSettings } from '../../contract.ts';
import { hertz } from '../../units.ts';
import { BATCH_FRAMES, type BufferReturn, POOL_SIZE, type SoundMessage } from './soundBatch.ts';
import type { SoundSource } from './soundSource.ts';

/** Sound that is made while it is heard. */
export interface PlayedSound {
  readonly sampleRateHz: number;
  /** Fills `into` with the next samples, full scale ±1; returns how many there were, fewer only at the end. */
  next(into: Float32Array): number;
}
export interface PlayedOptions {
  readonly kind: 'demo' | 'file';
  /** `real`: by the clock; `fast`: as fast as the ear takes it. */
  readonly speed: 'real' | 'fast';
  /** Also through the loudspeaker, `real` only; opened inside the tap. */
  readonly speaker?: Speaker;
}

/** Real time runs this far ahead, so that a late timer is not heard as a hole. */
const AHEAD_S = 0.2;

/**
 * A sound source out of made or decoded samples, through the same port and worker as the microphone. In `fast` the emptied
 * buffers that come back are the permission to go on.
 */
export function playedSource(sound: PlayedSound, options: PlayedOptions): SoundSource {
  const settings: CaptureSettings = { sampleRateHz: hertz(sound.sampleRateHz), deviceLabel: options.kind };
  const speaker = options.speed === 'real' ? options.speaker : undefined;
  let stopped = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    kind: options.kind,
    sampleRateHz: hertz(sound.sampleRateHz),
    settings,
    start: (port) => {
      const startMs = performance.now();
      let frame = 0;
      let inFlight = 0;
      const sendOne = (): boolean => {
        const samples = new Float32Array(BATCH_FRAMES);
        const length = sound.next(samples);
        if (length > 0) {
          speaker?.play(samples.subarray(0, length), frame);
          const batch: SoundMessage = { kind: 'samples', frame, buffer: samples.buffer, length };
          port.postMessage(batch, [samples.buffer]);
          frame += length;
          inFlight++;
        }
        if (length < BATCH_FRAMES) {
          stopped = true;
          port.postMessage({ kind: 'end' } satisfies SoundMessage);
        }
        return !stopped;
      };
      const sendDue = () => {
        if (stopped) return;
        if (options.speed === 'fast') {
          while (inFlight < POOL_SIZE && sendOne());
          return;
        }
        const due = ((performance.now() - startMs) / 1e3 + AHEAD_S) * sound.sampleRateHz;
        while (frame < due && sendOne());
        if (!stopped) timer = setTimeout(sendDue, 20);
      };
      port.onmessage = (event: MessageEvent<BufferReturn>) => {
        if (event.data.kind !== 'return') return;
        inFlight--;
        // A turn of the event loop in between lets the ear's answers be acted on before more is made.
        if (options.speed === 'fast' && inFlight <= POOL_SIZE / 2) timer = setTimeout(sendDue, 0);
      };
      sendDue();
    },
    stop: () => {
      stopped = true;
      clearTimeout(timer);
      options.speaker?.close();
    },
  };
}

/** A loudspeaker that plays batches one after the other. */
export interface Speaker {
  play(samples: Float32Array<ArrayBuffer>, frame: number): void;
  close(): void;
}

/** Call inside a tap: sound is allowed only then. */
export function openSpeaker(sampleRateHz: number): Speaker {
  const context = new AudioContext({ sampleRate: sampleRateHz });
  void context.resume().catch(() => {});
  let originS: number | undefined;
  return {
    play: (samples, frame) => {
      const buffer = context.createBuffer(1, samples.length, sampleRateHz);
      buffer.copyToChannel(samples, 0);
      const node = new AudioBufferSourceNode(context, { buffer });
      node.connect(context.destination);
      originS ??= context.currentTime + 0.05;
      node.start(Math.max(context.currentTime, originS + frame / sampleRateHz));
    },
    close: () => void context.close().catch(() => {}),
  };
}
