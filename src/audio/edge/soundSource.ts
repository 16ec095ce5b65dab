import type { CaptureSettings } from '../../contract.ts';
import type { Hertz } from '../../units.ts';
import type { WavReason } from '../decodeWav.ts';
import type { CaptureFault } from './captureNews.ts';

/** Where sound comes from: a microphone, a demo, a file. All three end in the same worker. */
export interface SoundSource {
  readonly kind: 'microphone' | 'demo' | 'file';
  readonly sampleRateHz: Hertz;
  readonly settings: CaptureSettings;
  /** Sends `SoundMessage`s into the port until stopped; called once. */
  start(sound: MessagePort): void;
  /** Lets go of every device. */
  stop(): void;
}

/** A platform failure with the fault that the screens have a sentence for. */
export interface SourceFailure {
  readonly ok: false;
  readonly problem: CaptureFault;
  readonly detail?: string;
  /** A file that is no WAV that can be read, and that the browser cannot play either: why. */
  readonly wav?: WavReason;
}
