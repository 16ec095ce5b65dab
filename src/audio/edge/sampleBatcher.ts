import { BATCH_FRAMES, POOL_SIZE, type SoundBatch } from './soundBatch.ts';

/**
 * Collects the audio thread's small blocks into batches. It only copies: no arithmetic, and no allocation per block. Buffers
 * come from a pool that the receiver refills; only if it has not kept up is a new one made, for a lost sample is worse.
 */
export class SampleBatcher {
  readonly #send: (batch: SoundBatch) => void;
  readonly #pool: ArrayBuffer[] = [];
  #current: Float32Array<ArrayBuffer>;
  #used = 0;
  #firstFrame = 0;
  #nextFrame = -1;

  constructor(send: (batch: SoundBatch) => void) {
    this.#send = send;
    for (let i = 0; i < POOL_SIZE; i++) this.#pool.push(new ArrayBuffer(BATCH_FRAMES * 4));
    this.#current = this.#take();
  }

  /** @param frame number of the block's first sample, @param block mono samples, any length up to a batch. */
  push(frame: number, block: Float32Array): void {
    if (frame !== this.#nextFrame) {
      this.flush();
      this.#firstFrame = frame;
    }
    this.#nextFrame = frame + block.length;
    const room = BATCH_FRAMES - this.#used;
    if (block.length < room) {
      this.#current.set(block, this.#used);
      this.#used += block.length;
      return;
    }
    for (let i = 0; i < room; i++) this.#current[this.#used + i] = block[i] ?? 0;
    this.#used = BATCH_FRAMES;
    this.flush();
    this.#firstFrame = frame + room;
    for (let i = room; i < block.length; i++) this.#current[i - room] = block[i] ?? 0;
    this.#used = block.length - room;
  }

  /** Sends what there is. */
  flush(): void {
    if (this.#used === 0) return;
    this.#send({ kind: 'samples', frame: this.#firstFrame, buffer: this.#current.buffer, length: this.#used });
    this.#used = 0;
    this.#current = this.#take();
  }

  /** An emptied buffer comes back. */
  giveBack(buffer: ArrayBuffer): void {
    if (buffer.byteLength === BATCH_FRAMES * 4 && this.#pool.length < POOL_SIZE) this.#pool.push(buffer);
  }

  #take(): Float32Array<ArrayBuffer> {
    return new Float32Array(this.#pool.pop() ?? new ArrayBuffer(BATCH_FRAMES * 4));
  }
}
