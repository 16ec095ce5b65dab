import { type Newtons, newtons } from '../units.ts';
import { describeMember } from './describeMember.ts';
import { sameState } from './limitVerdict.ts';
import { type CorrectionRefusal, stateCorrection } from './stateCorrection.ts';
import type { Wheel, WheelState } from './wheel.ts';

export type StateShiftReason = CorrectionRefusal['reason'] | 'notDescribed';

export type StateShift =
  /** As far as both are said, the wheel stood alike. */
  | { readonly kind: 'same' }
  /** What to add to a reading, with its standard uncertainty. */
  | { readonly kind: 'corrected'; readonly of: (spoke: number, tension: Newtons) => { shift: number; u: number } }
  /** The states differ, or one is not said, and nothing corrects one to the other. */
  | { readonly kind: 'none'; readonly reason: StateShiftReason };

/**
 * From the state in which tensions were read (by a gauge, or in an earlier round) to another, in which they are to be compared.
 *
 * Two states that nobody stated are taken for one, for the readings then usually belong to one sitting; one stated and one not are two.
 *
 * @param then State in which they were read.
 * @param now State to which they are brought.
 */
export function stateShift(wheel: Wheel, then: WheelState, now: WheelState): StateShift {
  const unsaid = then.tyre === 'unknown' && now.tyre === 'unknown';
  // A tyre that nobody stated hides no difference of temperature.
  const said = (state: WheelState): WheelState => (unsaid ? { ...state, tyre: 'off' } : state);
  const [from, to] = [said(then), said(now)];
  if (sameState(from, to) && sameState(to, from)) return { kind: 'same' };
  const spokes = new Map<number, ReturnType<typeof describeMember>>();
  const described = (spoke: number) => {
    const known = spokes.get(spoke) ?? describeMember(wheel, spoke);
    spokes.set(spoke, known);
    return known;
  };
  const first = described(1);
  if (!first.ok) return { kind: 'none', reason: 'notDescribed' };
  // Whether there is a correction does not depend on the spoke nor on its tension.
  const trial = stateCorrection(wheel, first, newtons(1000), from, to);
  if (!trial.ok) return { kind: 'none', reason: trial.reason };
  return {
    kind: 'corrected',
    of: (spoke, tension) => {
      const one = described(spoke);
      const correction = stateCorrection(wheel, one.ok ? one : first, tension, from, to);
      return correction.ok ? { shift: correction.shift, u: correction.u } : { shift: 0, u: 0 };
    },
  };
}
