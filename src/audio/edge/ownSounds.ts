/** One short tone of a signal of the app. */
export interface Beep {
  readonly atS: number;
  readonly lengthS: number;
  readonly frequencyHz: number;
}

/** Loud enough at arm's length, and far from full scale. */
const GAIN = 0.25;
/** Ramps keep the beep free of clicks, which an ear would take for plucks. */
const RAMP_S = 0.008;

/** Plays the app's own signals; the context is made inside a tap and kept. */
export class OwnSounds {
  #context: AudioContext | undefined;

  /** Call inside a tap, so that later sounds are allowed. */
  unlock(): void {
    this.#context ??= new AudioContext();
    if (this.#context.state === 'suspended') void this.#context.resume().catch(() => {});
  }

  /** @returns seconds until the last tone has left the loudspeaker; 0 where no sound can be made */
  play(beeps: readonly Beep[]): number {
    const context = this.#context;
    if (context?.state !== 'running') return 0;
    const start = context.currentTime + 0.02;
    let end = 0;
    for (const { atS, lengthS, frequencyHz } of beeps) {
      const tone = new OscillatorNode(context, { frequency: frequencyHz, type: 'triangle' });
      const gain = new GainNode(context, { gain: 0 });
      gain.gain.setValueAtTime(0, start + atS);
      gain.gain.linearRampToValueAtTime(GAIN, start + atS + RAMP_S);
      gain.gain.setValueAtTime(GAIN, start + atS + lengthS - RAMP_S);
      gain.gain.linearRampToValueAtTime(0, start + atS + lengthS);
      tone.connect(gain).connect(context.destination);
      tone.start(start + atS);
      tone.stop(start + atS + lengthS + 0.01);
      end = Math.max(end, atS + lengthS);
    }
    return end + 0.02 + (context.outputLatency || context.baseLatency || 0);
  }

  close(): void {
    void this.#context?.close().catch(() => {});
    this.#context = undefined;
  }
}
