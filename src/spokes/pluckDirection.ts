import { lnStiffnessOf } from '../physics/clampedness.ts';
import type { Ends, Member } from '../physics/member.ts';
import { modes } from '../physics/modes.ts';
import { newtonMetresPerRadian, newtons } from '../units.ts';
import { PLUCK_REPEATS_RELATIVE } from './plucksAgree.ts';

/** An ordinary tension, at which the planes are compared. `common practice` */
const AT_N = 900;
/** Nearly pinned and nearly clamped: the range in which an end of unknown kind lies (MODEL.md). */
const CLAMPEDNESS = [0.07, 0.93] as const;
const PLANES = ['inPlane', 'across'] as const;

export interface PluckDirection {
  readonly direction: (typeof PLANES)[number];
  readonly because:
    | 'crossing' // along the rim friction holds the crossing still; across the wheel it moves
    | 'alike' // round: either plane serves, so it is plucked as every other spoke
    | 'lessStiff'; // in this plane the first tone says more of tension and less of the ends
  /** By plane: how far ends from nearly pinned to nearly clamped leave open the tension that one first tone means, ± relative. */
  readonly leftOpen: Readonly<Record<(typeof PLANES)[number], number>>;
  /** Between the first tones of the two planes, relative. */
  readonly apart: number;
}

/**
 * Which way to pluck a spoke, so that its first tone tells most of its tension.
 *
 * A crossed spoke is plucked along the rim, where its crossing stands still. An uncrossed one is plucked in the plane in which ends of
 * unknown stiffness matter less to the first tone: for a blade, whose width lies in the wheel's plane, that is across the wheel. Where the
 * planes hardly differ, along the rim.
 *
 * @param tensionN About what the spoke carries, N; the answer hardly depends on it.
 * @source own comparison with the room's exact modes; that a crossing stands still along the rim: MODEL.md, coupled pair
 * @validity first tones at 900 N, both ends alike; the order of the planes holds from 300 to 1500 N on every kind of the catalogue
 */
export function pluckDirection(member: Member, tensionN = AT_N): PluckDirection {
  const uncrossed: Member = { sections: member.sections };
  const told = { inPlane: firstTone(uncrossed, 'inPlane', tensionN), across: firstTone(uncrossed, 'across', tensionN) };
  const leftOpen = { inPlane: told.inPlane.leftOpen, across: told.across.leftOpen };
  const apart = Math.abs(told.inPlane.lnF - told.across.lnF);
  if (member.crossingFromHub !== undefined) return { direction: 'inPlane', because: 'crossing', leftOpen, apart };
  // Closer together than a pluck repeats, nobody hears which of the two it was.
  if (apart < PLUCK_REPEATS_RELATIVE) return { direction: 'inPlane', because: 'alike', leftOpen, apart };
  const direction = leftOpen.across < leftOpen.inPlane ? 'across' : 'inPlane';
  return { direction, because: 'lessStiff', leftOpen, apart };
}

function firstTone(
  member: Member,
  plane: (typeof PLANES)[number],
  tensionN: number,
): { readonly lnF: number; readonly leftOpen: number } {
  const lnF = (clamped: number, tension: number): number => {
    const [first] = modes(member, newtons(tension), endsOf(member, clamped, tensionN), plane, { kind: 'none' }, 1);
    if (first === undefined) throw new RangeError(`modes ${plane}: none found, expected at least one`);
    return Math.log(first);
  };
  const [low, high] = CLAMPEDNESS;
  const middle = lnF(0.5, tensionN);
  const perLnT = (lnF(0.5, tensionN * 1.02) - middle) / Math.log(1.02);
  return { lnF: middle, leftOpen: (lnF(high, tensionN) - lnF(low, tensionN)) / perLnT / 2 };
}

/** The same support in both planes: what holds the spoke does not know its shape. */
function endsOf(member: Member, clamped: number, tensionN: number): Ends {
  const k = newtonMetresPerRadian(Math.exp(lnStiffnessOf(member, clamped, tensionN)));
  return { hub: { inPlane: k, across: k }, rim: { inPlane: k, across: k } };
}
