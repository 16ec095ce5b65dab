import type { Hertz } from '../../units.ts';

const SLOT_S = 1;
/** Least lateness differs by this much from slot to slot on a busy machine, without a fault. */
const LATENESS_JITTER_S = 0.03;
/** 1 % in frequency is 2 % in tension; a mix-up of 44.1 and 48 kHz is 8.8 %. */
const ALLOWED_RELATIVE = 0.01;
/** Longer than this without a batch and the stream itself stood still: counting starts afresh. */
const STANDSTILL_S = 0.5;
/** Counting starts afresh after this many slots, so that a change in mid-session shows. */
const SLOTS_KEPT = 30;
const SLOTS_IN_AGREEMENT = 2;

/**
 * Compares the samples that arrived with the clock. A batch's lateness is the clock minus samples / stated rate; late delivery
 * can only raise it, so the least lateness of each second is compared with the first second's, and its drift is the relative
 * error of the rate. Two seconds in a row must say the same.
 */
export class RateCheck {
  readonly #stated: Hertz;
  #startMs: number | undefined;
  #lastMs = 0;
  #samples = 0;
  #first: number | undefined;
  #slot = 0;
  #least = Number.POSITIVE_INFINITY;
  #doubts = 0;

  /** @param stated the rate the stream claims, Hz, above 0 */
  constructor(stated: Hertz) {
    if (!(stated > 0)) throw new RangeError(`stated rate is ${stated}; expected a rate above 0 Hz`);
    this.#stated = stated;
  }

  /** The stream broke: what was counted no longer tells. */
  reset(): void {
    this.#startMs = undefined;
  }

  /**
   * @param samples that arrived just now, @param nowMs a monotonic clock, ms
   * @returns the measured rate where it is certainly not the stated one, else undefined
   */
  arrived(samples: number, nowMs: number): Hertz | undefined {
    if (this.#startMs === undefined || nowMs - this.#lastMs > STANDSTILL_S * 1e3) return this.#begin(nowMs);
    this.#lastMs = nowMs;
    this.#samples += samples;
    const elapsed = (nowMs - this.#startMs) / 1e3;
    const slot = Math.floor(elapsed / SLOT_S);
    const verdict = slot > this.#slot ? this.#closeSlot() : undefined;
    if (slot > this.#slot) {
      this.#slot = slot;
      this.#least = Number.POSITIVE_INFINITY;
    }
    this.#least = Math.min(this.#least, elapsed - this.#samples / this.#stated);
    if (slot >= SLOTS_KEPT) this.reset();
    return verdict;
  }

  #begin(nowMs: number): undefined {
    this.#startMs = nowMs;
    this.#lastMs = nowMs;
    this.#samples = 0;
    this.#first = undefined;
    this.#slot = 0;
    this.#least = Number.POSITIVE_INFINITY;
    this.#doubts = 0;
    return undefined;
  }

  #closeSlot(): Hertz | undefined {
    if (this.#first === undefined) {
      this.#first = this.#least;
      return undefined;
    }
    const span = this.#slot * SLOT_S;
    const relative = (this.#least - this.#first) / span;
    this.#doubts = Math.abs(relative) > ALLOWED_RELATIVE + LATENESS_JITTER_S / span ? this.#doubts + 1 : 0;
    return this.#doubts >= SLOTS_IN_AGREEMENT ? ((this.#stated * (1 - relative)) as Hertz) : undefined;
  }
}
