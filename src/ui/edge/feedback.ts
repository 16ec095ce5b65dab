import { type Beep, OwnSounds } from '../../audio/edge/ownSounds.ts';
import type { FeedbackSignal } from '../store/ports.ts';

interface Signal {
  readonly beeps: readonly Beep[];
  /** On and off times, ms. */
  readonly vibrationMs: readonly number[];
}

/** Rhythm tells them apart before pitch does: one short; short–long; long low; three rising. Tones lie above a spoke's lowest. */
const SIGNALS: Readonly<Record<FeedbackSignal, Signal>> = {
  taken: { beeps: [{ atS: 0, lengthS: 0.05, frequencyHz: 1320 }], vibrationMs: [25] },
  settled: {
    beeps: [
      { atS: 0, lengthS: 0.05, frequencyHz: 1320 },
      { atS: 0.09, lengthS: 0.14, frequencyHz: 1760 },
    ],
    vibrationMs: [30, 60, 90],
  },
  refused: { beeps: [{ atS: 0, lengthS: 0.22, frequencyHz: 220 }], vibrationMs: [180] },
  finished: {
    beeps: [
      { atS: 0, lengthS: 0.1, frequencyHz: 880 },
      { atS: 0.14, lengthS: 0.1, frequencyHz: 1175 },
      { atS: 0.28, lengthS: 0.25, frequencyHz: 1760 },
    ],
    vibrationMs: [60, 60, 60, 60, 160],
  },
};

/** A motor still turns a little after its time. */
const VIBRATION_TAIL_S = 0.05;

export interface Feedback {
  unlock(): void;
  /** @returns seconds during which the device sounds or shakes; the ear must not listen so long */
  give(signal: FeedbackSignal, want: { readonly sound: boolean; readonly vibration: boolean }): number;
}

/** Sound and vibration of the app itself. Vibration is a bonus: some devices have none. */
export function createFeedback(sounds = new OwnSounds()): Feedback {
  return {
    unlock: () => sounds.unlock(),
    give: (signal, want) => {
      const { beeps, vibrationMs } = SIGNALS[signal];
      const soundS = want.sound ? sounds.play(beeps) : 0;
      const shakes = want.vibration && typeof navigator.vibrate === 'function' && navigator.vibrate([...vibrationMs]);
      const shakeS = shakes ? vibrationMs.reduce((sum, ms) => sum + ms, 0) / 1e3 + VIBRATION_TAIL_S : 0;
      return Math.max(soundS, shakeS);
    },
  };
}
