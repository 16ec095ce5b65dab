import type { Plane } from '../contract.ts';
import type { ChainSpec } from './chain.ts';
import type { Ends, Member } from './member.ts';

/** Shorter leftovers of a cut are given to the neighbour: a millionth of a millimetre rings no differently. */
const SHORTEST = 1e-9;

/** The member's pieces in one plane, cut at `cutAt` (m from the hub) if it is given; `cutPiece` counts the pieces before the cut. */
export const piecesOf = (
  member: Member,
  plane: Plane,
  cutAt?: number,
): {
  lengths: number[];
  masses: number[];
  bendings: number[];
  shearCompliances: number[];
  cutPiece: number;
} => {
  const lengths: number[] = [];
  const masses: number[] = [];
  const bendings: number[] = [];
  const shearCompliances: number[] = [];
  let cutPiece = -1;
  let at = 0;
  for (const section of member.sections) {
    const bending = plane === 'inPlane' ? section.bendingInPlane : section.bendingAcross;
    const push = (length: number): void => {
      lengths.push(length);
      masses.push(section.massPerLength);
      bendings.push(bending);
      shearCompliances.push(section.shear === undefined ? 0 : 1 / section.shear);
    };
    const end = at + section.length;
    if (cutAt !== undefined && cutPiece < 0 && cutAt < end + SHORTEST) {
      const before = cutAt - at;
      if (before > SHORTEST) push(before);
      cutPiece = lengths.length;
      if (end - cutAt > SHORTEST) push(end - cutAt);
    } else push(section.length);
    at = end;
  }
  return { lengths, masses, bendings, shearCompliances, cutPiece };
};

/**
 * The chain of a member in one plane; with `supportStiffness` (N/m, Infinity = rigid) its crossing is held.
 * @throws RangeError if a support is asked for and the member has no crossing
 */
export const chainOf = (member: Member, ends: Ends, plane: Plane, supportStiffness?: number): ChainSpec => {
  if (supportStiffness !== undefined && member.crossingFromHub === undefined)
    throw new RangeError('crossingFromHub is absent, expected a crossing to hold');
  const cutAt = supportStiffness === undefined ? undefined : member.crossingFromHub;
  const { cutPiece, ...pieces } = piecesOf(member, plane, cutAt);
  return {
    ...pieces,
    hubEnd: ends.hub[plane],
    rimEnd: ends.rim[plane],
    ...(supportStiffness === undefined ? {} : { support: { afterPiece: cutPiece, stiffness: supportStiffness } }),
  };
};
