import { describe, expect, it } from 'vitest';
import { SampleBatcher } from '../../../src/audio/edge/sampleBatcher.ts';
import { BATCH_FRAMES, POOL_SIZE, type SoundBatch } from '../../../src/audio/edge/soundBatch.ts';

const BLOCK = 128;
const ramp = (from: number, length = BLOCK) => Float32Array.from({ length }, (_, i) => from + i);
const samplesOf = (batch: SoundBatch) => [...new Float32Array(batch.buffer, 0, batch.length)];

describe('the audio thread only copies', () => {
  it('delivers every sample once and in order', () => {
    const got: SoundBatch[] = [];
    const batcher = new SampleBatcher((batch) => got.push(batch));
    for (let frame = 0; frame < 10 * BATCH_FRAMES; frame += BLOCK) batcher.push(frame, ramp(frame));
    expect(got.map((batch) => batch.frame)).toEqual(Array.from({ length: 10 }, (_, i) => i * BATCH_FRAMES));
    expect(got.flatMap(samplesOf)).toEqual([...ramp(0, 10 * BATCH_FRAMES)]);
  });

  it('splits a block that does not fit, whatever its length', () => {
    const got: SoundBatch[] = [];
    const batcher = new SampleBatcher((batch) => got.push(batch));
    for (let frame = 0; frame < 3 * BATCH_FRAMES; frame += 100) batcher.push(frame, ramp(frame, 100));
    batcher.flush();
    expect(got.flatMap(samplesOf)).toEqual([...ramp(0, Math.ceil((3 * BATCH_FRAMES) / 100) * 100)]);
  });

  it('starts a new batch where frames are missing, so that the hole is seen', () => {
    const got: SoundBatch[] = [];
    const batcher = new SampleBatcher((batch) => got.push(batch));
    batcher.push(0, ramp(0));
    batcher.push(1000, ramp(1000));
    batcher.flush();
    expect(got.map(({ frame, length }) => [frame, length])).toEqual([
      [0, BLOCK],
      [1000, BLOCK],
    ]);
  });

  it('uses the same buffers again once they are given back', () => {
    const seen = new Set<ArrayBuffer>();
    const batcher: SampleBatcher = new SampleBatcher((batch) => {
      seen.add(batch.buffer);
      queue.push(batch.buffer);
    });
    const queue: ArrayBuffer[] = [];
    for (let frame = 0; frame < 200 * BATCH_FRAMES; frame += BLOCK) {
      batcher.push(frame, ramp(frame));
      const back = queue.shift();
      if (back) batcher.giveBack(back);
    }
    expect(seen.size).toBeLessThanOrEqual(POOL_SIZE);
  });

  it('rather allocates than loses a sample when the receiver has not kept up', () => {
    const got: SoundBatch[] = [];
    const batcher = new SampleBatcher((batch) => got.push(batch));
    const batches = POOL_SIZE * 3;
    for (let frame = 0; frame < batches * BATCH_FRAMES; frame += BLOCK) batcher.push(frame, ramp(frame));
    expect(got.flatMap(samplesOf)).toEqual([...ramp(0, batches * BATCH_FRAMES)]);
  });
});
