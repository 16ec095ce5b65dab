import type { WheelJudgement } from './judgeWheel.ts';
import type { RoundReadings } from './readRound.ts';
import { type StateShift, type StateShiftReason, stateShift } from './stateShift.ts';
import type { Round, Side, Wheel, WheelState } from './wheel.ts';

/** An earlier round beside this one. */
export interface BeforeComparison {
  /** Spokes read in both; none where the states cannot be compared. */
  readonly spokes: readonly BeforeAfter[];
  /** The wheel stood otherwise then; its tensions were brought to this round's state, by so much on average, or why not. */
  readonly otherState?: { readonly state: WheelState } & (
    | { readonly meanShiftN: number; readonly uN: number }
    | { readonly reason: StateShiftReason }
  );
}

export interface BeforeAfter {
  readonly spoke: number;
  readonly side: Side;
  readonly beforeN: number;
  readonly afterN: number;
  /** Standard uncertainty of the change: own parts, for the rest is the same in both, and that of a correction of state. */
  readonly uChangeN: number;
}

/** Rounds of different states are compared only after correction. */
export function compareBefore(
  wheel: Wheel,
  round: Round,
  judgement: WheelJudgement,
  before: { readonly round: Round; readonly readings: RoundReadings },
): BeforeComparison {
  const { state } = before.round;
  const shift = stateShift(wheel, state, round.state);
  if (shift.kind === 'same') return { spokes: beforeAfter(judgement, before.readings) };
  if (shift.kind === 'none') return { spokes: [], otherState: { state, reason: shift.reason } };
  const spokes = beforeAfter(judgement, before.readings, shift.of);
  const shifts = spokes.flatMap(({ spoke }) => {
    const earlier = before.readings.readings.get(spoke);
    return earlier?.ok ? [shift.of(spoke, earlier.tensionN)] : [];
  });
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / Math.max(1, values.length);
  return {
    spokes,
    otherState: { state, meanShiftN: mean(shifts.map((one) => one.shift)), uN: mean(shifts.map((one) => one.u)) },
  };
}

/** Spokes read in both rounds. @param shift From the earlier round's state to this one's. */
export function beforeAfter(
  judgement: WheelJudgement,
  before: Pick<RoundReadings, 'readings'>,
  shift: Extract<StateShift, { kind: 'corrected' }>['of'] = () => ({ shift: 0, u: 0 }),
): readonly BeforeAfter[] {
  return judgement.spokes.flatMap(({ number, side, reading }) => {
    const earlier = before.readings.get(number);
    if (!reading?.ok || !earlier?.ok) return [];
    const by = shift(number, earlier.tensionN);
    return [
      {
        spoke: number,
        side,
        beforeN: earlier.tensionN + by.shift,
        afterN: reading.tensionN,
        uChangeN: Math.hypot(reading.uOwnN, earlier.uOwnN, by.u),
      },
    ];
  });
}
