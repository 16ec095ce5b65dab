/** What travels from a sound source to the hearing worker: mono samples, full scale ±1, transferred, not copied. */
export interface SoundBatch {
  readonly kind: 'samples';
  /** Number of the first sample, counted by the source's own clock; a jump means that samples were lost. */
  readonly frame: number;
  readonly buffer: ArrayBuffer;
  /** Samples used in the buffer, at most `BATCH_FRAMES`. */
  readonly length: number;
}
/** The source has no more. */
export interface SoundEnd {
  readonly kind: 'end';
}
export type SoundMessage = SoundBatch | SoundEnd;

/** The worker gives an emptied buffer back, so that the audio thread need not allocate. */
export interface BufferReturn {
  readonly kind: 'return';
  readonly buffer: ArrayBuffer;
}

/** 43 ms at 48 kHz: kind to phones, and early enough for the screen. */
export const BATCH_FRAMES = 2048;
/** Buffers in flight before the source has to allocate: 0.7 s at 48 kHz. */
export const POOL_SIZE = 16;
