import type { MeasureRefusal, Plane } from '../contract.ts';
import { type Hertz, type Newtons, newtons } from '../units.ts';
import { Chain } from './chain.ts';
import { chainOf } from './chainOf.ts';
import { checkFigures } from './checkMember.ts';
import type { Ends, Member } from './member.ts';
import type { CrossingState } from './modes.ts';

const HIGHEST = 1e5;

/**
 * The tension at which one mode has exactly this frequency, all else being known: the exact inverse of `modes`.
 *
 * Method: more tension never lowers a frequency, so the number of natural frequencies below ω falls as tension rises; bisection on that
 * Wittrick–Williams count, to the last digits.
 * @param frequency Hz, > 0
 * @param mode from 1, in the order of `modes`
 * @param crossing not a pair: its tones belong to two tensions
 * @returns N in 0..1e5, or `belowBendingTone` / `outOfRange`
 * @source Wittrick & Williams, Q. J. Mech. Appl. Math. 24 (1971), 263
 */
export const tensionOf = (
  member: Member,
  frequency: Hertz,
  mode: number,
  ends: Ends,
  plane: Plane,
  crossing: Exclude<CrossingState, { kind: 'pair' }>,
): { readonly ok: true; readonly tension: Newtons } | MeasureRefusal => {
  const problem = checkFigures(member);
  if (problem !== undefined) return { ok: false, reason: 'memberImpossible', detail: problem };
  if (!(frequency > 0 && Number.isFinite(frequency)))
    return { ok: false, reason: 'noTones', detail: `${frequency} Hz, expected above 0` };
  const chain = new Chain(chainOf(member, ends, plane, crossing.kind === 'support' ? crossing.stiffness : undefined));
  const omega = 2 * Math.PI * frequency;
  chain.subdivide(omega, 0);
  const tooSlack = (tension: number): boolean => {
    chain.evaluate(omega, tension);
    return chain.count >= mode;
  };
  if (!tooSlack(0))
    return {
      ok: false,
      reason: 'belowBendingTone',
      detail: `${frequency.toFixed(1)} Hz is below the slack member's tone`,
    };
  if (tooSlack(HIGHEST)) return { ok: false, reason: 'outOfRange', detail: `${frequency.toFixed(1)} Hz` };
  let low = 0;
  let high = HIGHEST;
  while (high - low > 1e-11 * high && high - low > 1e-12) {
    const middle = 0.5 * (low + high);
    if (tooSlack(middle)) low = middle;
    else high = middle;
  }
  return { ok: true, tension: newtons(0.5 * (low + high)) };
};
