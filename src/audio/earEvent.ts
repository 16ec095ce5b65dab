import type { CaptureSettings, ExpectedAtTension, Heard, HearRefusal } from '../contract.ts';
import type { Hertz, Seconds } from '../units.ts';

/** What the ear is told before it listens. */
export interface EarOptions {
  readonly sampleRateHz: Hertz;
  readonly settings: CaptureSettings;
  /** The described member's tones on a ladder of tensions; absent: numbering is a guess from ratios alone. */
  readonly expected?: readonly ExpectedAtTension[];
  /** Ring after which a pluck is judged; longer tells more of what decays slowly. Default 0.66 s, for an answer within 0.7 s. */
  readonly maxRingS?: Seconds;
}

/** What the ear says while it listens; times count from the first sample pushed. */
export type EarEvent =
  | { readonly kind: 'level'; readonly atS: Seconds; readonly level: 'quiet' | 'good' | 'tooLoud' }
  | { readonly kind: 'onset'; readonly onsetS: Seconds }
  /** For the screen, within 0.25 s of the pluck: the first tone as far as it is known. */
  | { readonly kind: 'early'; readonly onsetS: Seconds; readonly firstToneHz: Hertz }
  | {
      readonly kind: 'heard';
      readonly heard: Heard | HearRefusal;
      /** The samples it was judged by, from 0.3 s before the onset: for the recording and the spectrum drawing. */
      readonly excerpt: Float32Array<ArrayBuffer>;
      readonly excerptStartS: Seconds;
    };

/** A listening ear: the same in the worker, at the desk and in tests. */
export interface Ear {
  /** Takes the next mono samples, full scale ±1, any block length; returns what became known with them. */
  push(samples: Float32Array): readonly EarEvent[];
  /** The stream lost samples here: a pluck in flight is given up, times go on. */
  gap(lostSamples: number): readonly EarEvent[];
  /** No more will come: a pluck in flight is judged by what there is. */
  end(): readonly EarEvent[];
  /** Another spoke is next. */
  expect(expected: readonly ExpectedAtTension[] | undefined): void;
  /** The app makes a sound of its own: onsets before this time (from the first sample) are not plucks. */
  holdOffUntil(atS: Seconds): void;
}
