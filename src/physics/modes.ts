import type { Plane } from '../contract.ts';
import { type Hertz, hertz, type Newtons, type NewtonsPerMetre } from '../units.ts';
import { Chain } from './chain.ts';
import { chainOf } from './chainOf.ts';
import { checkFigures } from './checkMember.ts';
import { findModes } from './findModes.ts';
import type { Ends, Member } from './member.ts';
import { PairChain } from './pairChain.ts';

/** What the touching spoke does to the member. */
export type CrossingState =
  /** Nothing touches, or it is left out of account. */
  | { readonly kind: 'none' }
  /** A point support; the member continues beyond it. Infinity = rigid. */
  | { readonly kind: 'support'; readonly stiffness: NewtonsPerMetre }
  /** The partner of an interlaced pair, touching and free to move together. */
  | { readonly kind: 'pair'; readonly partner: Member; readonly partnerTension: Newtons; readonly partnerEnds: Ends };

/**
 * Exact natural frequencies of a tensioned, stepped, stiff member in one plane.
 *
 * Method: dynamic stiffness of uniform pieces under tension that bend and, where they are given a shear stiffness, shear, Wittrick–Williams counting, then a bracketed secant on
 * the determinant. None is missed; coincident ones appear twice.
 * @param tension N, ≥ 0 and finite
 * @param ends rotational stiffness of both supports, 0..Infinity N·m/rad
 * @param count how many, ≥ 1
 * @returns Hz, ascending, `count` long
 * @throws RangeError naming the value if the member, the tension or an end stiffness is impossible
 * @source Wittrick & Williams, Q. J. Mech. Appl. Math. 24 (1971), 263; Banerjee, Transp. Safety Environ. 1 (2019), 106
 * @validity Slender members: rotary inertia, and shear where none is given, are neglected (below 0.05 % in frequency to mode 3 of a 2 mm wire).
 */
export const modes = (
  member: Member,
  tension: Newtons,
  ends: Ends,
  plane: Plane,
  crossing: CrossingState,
  count: number,
): Hertz[] => {
  const problem = checkFigures(member);
  if (problem !== undefined) throw new RangeError(problem);
  if (!(tension >= 0 && Number.isFinite(tension))) throw new RangeError(`tension is ${tension} N, expected ≥ 0`);
  for (const end of [ends.hub[plane], ends.rim[plane]])
    if (!(end >= 0)) throw new RangeError(`end stiffness is ${end} N·m/rad, expected 0..Infinity`);
  if (!(Number.isInteger(count) && count >= 1)) throw new RangeError(`count is ${count}, expected a positive integer`);
  const structure =
    crossing.kind === 'pair'
      ? new PairChain(member, ends, crossing.partner, crossing.partnerEnds, crossing.partnerTension, plane)
      : new Chain(chainOf(member, ends, plane, crossing.kind === 'support' ? crossing.stiffness : undefined));
  return Array.from(findModes(structure, tension, count, firstGuess(member, tension, plane)), (omega) =>
    hertz(omega / (2 * Math.PI)),
  );
};

/** Pinned uniform member of the mean mass and stiffness: the order of the first frequency, rad/s. */
const firstGuess = (member: Member, tension: number, plane: Plane): number => {
  let length = 0;
  let mass = 0;
  let bending = 0;
  for (const section of member.sections) {
    length += section.length;
    mass += section.massPerLength * section.length;
    bending += (plane === 'inPlane' ? section.bendingInPlane : section.bendingAcross) * section.length;
  }
  const wave = Math.PI / length;
  return wave * Math.sqrt((tension + (bending / length) * wave * wave) / (mass / length));
};
