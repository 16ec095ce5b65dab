import { SampleBatcher } from './sampleBatcher.ts';
import type { BufferReturn } from './soundBatch.ts';

// The audio thread's globals, which the DOM library does not declare.
declare const currentFrame: number;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;

/**
 * Copies the first input channel into batches and sends them straight to the hearing worker through a port that the page
 * hands over. Only channel 0 is taken: a mean of two microphones would comb-filter the tone (quirk 3).
 */
class Capture extends AudioWorkletProcessor {
  #batcher: SampleBatcher | undefined;
  #running = true;

  constructor() {
    super();
    this.port.onmessage = (event: MessageEvent<{ sound?: MessagePort; stop?: true }>) => {
      if (event.data.stop) this.#stop();
      const sound = event.data.sound;
      if (!sound) return;
      const batcher = new SampleBatcher((batch) => sound.postMessage(batch, [batch.buffer]));
      sound.onmessage = (back: MessageEvent<BufferReturn>) => batcher.giveBack(back.data.buffer);
      this.#batcher = batcher;
    };
  }

  process(inputs: readonly (readonly Float32Array[])[]): boolean {
    const block = inputs[0]?.[0];
    if (block) this.#batcher?.push(currentFrame, block);
    return this.#running;
  }

  #stop(): void {
    this.#running = false;
    this.#batcher?.flush();
    this.#batcher = undefined;
  }
}

registerProcessor('ringtrue-capture', Capture);
