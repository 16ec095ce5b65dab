import type { ExpectedAtTension } from '../../contract.ts';
import { seconds } from '../../units.ts';
import type { Ear, EarEvent, EarOptions } from '../earEvent.ts';
import type { CaptureNews } from './captureNews.ts';
import { RateCheck } from './rateCheck.ts';
import type { SoundBatch } from './soundBatch.ts';

/** While the context starts, one hole of 1000–2000 frames is usual (quirk 4). */
const START_IGNORED_S = 0.1;
/** A microphone is never exactly zero for so long; a muted or lost one is. */
const SILENCE_S = 3;
/** However short the app's own sound or vibration was. */
export const HOLD_OFF_LEAST_S = 0.3;
/** The way from the loudspeaker through the air and the input's buffers, and the motor's last turns. */
const HOLD_OFF_LATENCY_S = 0.1;

/**
 * What the worker does with each batch: checks that none is missing, that the rate is true and that there is sound at all, and
 * lets the ear hear it. Knows no thread and no clock, so that it is tested as it is.
 */
export class Hearing {
  readonly #ear: Ear;
  readonly #rateHz: number;
  readonly #rateCheck: RateCheck | undefined;
  readonly #onEar: (event: EarEvent) => void;
  readonly #onNews: (news: CaptureNews) => void;
  #firstFrame: number | undefined;
  #nextFrame = 0;
  #pushed = 0;
  #zeros = 0;
  #silent = false;
  #rateDoubted = false;

  /** @param byTheClock false for a demo or a file: their rate and their silences are their own */
  constructor(
    createEar: (options: EarOptions) => Ear,
    options: EarOptions,
    byTheClock: boolean,
    onEar: (event: EarEvent) => void,
    onNews: (news: CaptureNews) => void,
  ) {
    this.#ear = createEar(options);
    this.#rateHz = options.sampleRateHz;
    this.#rateCheck = byTheClock ? new RateCheck(options.sampleRateHz) : undefined;
    this.#onEar = onEar;
    this.#onNews = onNews;
  }

  take(batch: SoundBatch, nowMs: number): void {
    const samples = new Float32Array(batch.buffer, 0, batch.length);
    if (this.#firstFrame === undefined) this.#firstFrame = batch.frame;
    else if (batch.frame !== this.#nextFrame) this.#missing(batch.frame - this.#nextFrame);
    this.#nextFrame = batch.frame + batch.length;
    if (this.#rateCheck) this.#listenForSilence(samples);
    this.#compareWithClock(batch.length, nowMs);
    this.#pushed += samples.length;
    this.#tell(this.#ear.push(samples));
  }

  end(): void {
    this.#tell(this.#ear.end());
    this.#onNews({ kind: 'ended' });
  }

  expect(expected: readonly ExpectedAtTension[] | undefined): void {
    this.#ear.expect(expected);
  }

  holdOff(durationS: number): void {
    const deafS = Math.max(HOLD_OFF_LEAST_S, durationS + HOLD_OFF_LATENCY_S);
    this.#ear.holdOffUntil(seconds(this.#pushed / this.#rateHz + deafS));
  }

  #missing(lost: number): void {
    this.#rateCheck?.reset();
    const sinceStart = (this.#nextFrame - (this.#firstFrame ?? 0)) / this.#rateHz;
    if (lost > 0) {
      this.#pushed += lost;
      this.#tell(this.#ear.gap(lost));
    }
    if (sinceStart > START_IGNORED_S)
      this.#onNews({ kind: 'problem', problem: 'samplesLost', detail: `${Math.abs(lost)}` });
  }

  #listenForSilence(samples: Float32Array): void {
    const sounding = samples.some((sample) => sample !== 0);
    this.#zeros = sounding ? 0 : this.#zeros + samples.length;
    if (sounding && this.#silent) {
      this.#silent = false;
      this.#onNews({ kind: 'mended', problem: 'microphoneSilent' });
    } else if (!this.#silent && this.#zeros > SILENCE_S * this.#rateHz) {
      this.#silent = true;
      this.#onNews({ kind: 'problem', problem: 'microphoneSilent' });
    }
  }

  #compareWithClock(count: number, nowMs: number): void {
    const measured = this.#rateCheck?.arrived(count, nowMs);
    if (measured === undefined || this.#rateDoubted) return;
    this.#rateDoubted = true;
    this.#onNews({ kind: 'problem', problem: 'rateUntrue', detail: `${Math.round(measured)}` });
  }

  #tell(events: readonly EarEvent[]): void {
    for (const event of events) this.#onEar(event);
  }
}
