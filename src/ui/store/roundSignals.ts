import type { HearReason } from '../../contract.ts';
import type { WalkOutcome } from '../../spokes/walkRound.ts';
import type { Desk } from './desk.ts';
import type { FeedbackSignal } from './ports.ts';

/** What the device answers to what became of a pluck. */
export const SIGNALS: Readonly<Record<WalkOutcome, FeedbackSignal | undefined>> = {
  first: 'taken',
  agrees: 'taken',
  settled: 'settled',
  differs: 'refused',
  contested: 'refused',
  closed: 'finished',
  closingDiffers: 'refused',
  notNow: undefined,
};

/** Sounds of the room are shown but not answered: a radio would make the app beep without end. */
export const ROOM_SOUNDS: ReadonlySet<HearReason> = new Set<HearReason>([
  'hum',
  'speech',
  'music',
  'knock',
  'freehub',
  'rotor',
  'squeak',
]);

/** Sounds and shakes as preferred; the ear holds off meanwhile. */
export const signaller =
  ({ get, ports, live }: Pick<Desk, 'get' | 'ports' | 'live'>) =>
  (kind: FeedbackSignal): void => {
    const { sound, vibration } = get().preferences;
    const durationS = ports.feedback.give(kind, { sound, vibration });
    if (durationS > 0) live.listening?.holdOff(durationS);
  };
