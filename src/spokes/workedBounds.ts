import type { Member } from '../physics/member.ts';
import { type Hertz, type NewtonMetresSquared, type Newtons, newtonMetresSquared, newtons } from '../units.ts';

export interface WorkedBounds {
  /** In the wheel's plane, of the longest piece that rings. */
  readonly bending: NewtonMetresSquared;
  /** Both ends turning freely: 4 μ L² f² − π² EI/L². */
  readonly pinned: Newtons;
  /** Both ends held from turning. */
  readonly clamped: Newtons;
}

const STEPS = 60;

/**
 * Between which tensions a tone leaves a stiff string, whatever its ends do: two formulas that a reader follows with a calculator.
 *
 * Pinned: T = 4 μ L² f² − π² EI/L², exact. Clamped: f = 1/(2L) √(T/μ) · √(1 + B) · (1 + (2/π) √B + (4/π²) B), B = π² EI/(T L²), solved for T
 * by repetition. The real ends, and the spoke beyond its crossing, lie in between.
 *
 * @param massPerLength kg/m, of the part that rings
 * @param freeLength m, of that part
 * @source Fletcher, J. Acoust. Soc. Am. 36 (1964) 203 (stiff string, pinned and clamped ends)
 * @validity Uniform and slender; the clamped form leaves out terms of B^1.5: to 1 % of tension while B < 0.07.
 */
export function workedBounds(
  member: Member,
  massPerLength: number,
  freeLength: number,
  first: Hertz,
): WorkedBounds | undefined {
  const from = member.crossingFromHub ?? 0;
  let at = 0;
  let longest = 0;
  let bending = 0;
  for (const section of member.sections) {
    const ringing = Math.min(section.length, at + section.length - from);
    if (ringing > longest) {
      longest = ringing;
      bending = section.bendingInPlane;
    }
    at += section.length;
  }
  const string = 4 * massPerLength * (freeLength * first) ** 2;
  const stiff = (Math.PI ** 2 * bending) / freeLength ** 2;
  const pinned = string - stiff;
  let clamped = pinned;
  for (let i = 0; i < STEPS; i++) {
    if (!(clamped > 0)) return undefined;
    const b = stiff / clamped;
    const factor = Math.sqrt(1 + b) * (1 + (2 / Math.PI) * Math.sqrt(b) + (4 / Math.PI ** 2) * b);
    // Half way each time: the plain repetition swings on stiff, slack spokes.
    clamped = (clamped + string / factor ** 2) / 2;
  }
  return { bending: newtonMetresSquared(bending), pinned: newtons(pinned), clamped: newtons(clamped) };
}
