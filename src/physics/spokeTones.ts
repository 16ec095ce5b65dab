import type { HeardFlag, How, Hypothesis, MeasureRefusal, Reading, Tone } from '../contract.ts';
import type { Newtons } from '../units.ts';
import type { PreparedMember } from './prepareMember.ts';

/** What the ear heard of one pluck, as far as the member needs it. */
export interface PluckTones {
  readonly tones: readonly Tone[];
  readonly covarianceHz2: readonly (readonly number[])[];
  /** Evidence for the numbering, not a verdict. Empty for typed tones. */
  readonly hypotheses: readonly Hypothesis[];
  readonly flags: readonly HeardFlag[];
  readonly how: How;
}

/** All plucks credited to one spoke, with its member. */
export interface SpokeTones {
  readonly id: number;
  readonly prepared: PreparedMember;
  readonly plucks: readonly PluckTones[];
  /** Spokes of the same group share mass, length, crossing and end-stiffness errors (one side, one kind). */
  readonly group: string;
  /** Known independently (load cell, gauge), weighed in with its standard uncertainty. */
  readonly known?: { readonly tension: Newtons; readonly u: Newtons };
  /** `spare`: shares mass and stiffness with its group but has ends of its own. */
  readonly spare?: boolean;
}

export interface WheelReading {
  readonly readings: ReadonlyMap<number, Reading | MeasureRefusal>;
  /** What the group's tones taught, by group. */
  readonly learned: ReadonlyMap<string, Learned>;
}
export interface Learned {
  /** Clampedness 0 (pinned) .. 1 (clamped) of each end at the group's mean tension, with standard uncertainty. */
  readonly hubEnd: { readonly value: number; readonly u: number };
  readonly rimEnd: { readonly value: number; readonly u: number };
  /** Multipliers on the described figures, with standard uncertainty. */
  readonly massFactor: { readonly value: number; readonly u: number };
  readonly stiffnessFactor: { readonly value: number; readonly u: number };
  readonly degreesOfFreedom: number;
  /** Calibration and description differ by more than both allow. */
  readonly contradiction: boolean;
}
