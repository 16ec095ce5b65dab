import type { Family, Plane } from '../contract.ts';
import { newtonMetresPerRadian } from '../units.ts';
import { checkMember } from './checkMember.ts';
import { crossingSupport } from './crossingSupport.ts';
import type { DescribedMember, EndPrior, Section } from './member.ts';
import { spreadPrior } from './spreadPrior.ts';
import { type ToneTable, tabulate } from './toneTable.ts';

/** A described member with its tones tabulated over tension and end stiffness: plain data, made once, used by every inversion. */
export interface PreparedMember {
  readonly described: DescribedMember;
  /** The priors actually used. */
  readonly endPrior: { readonly hub: EndPrior; readonly rim: EndPrior };
  /** Along the rim: the segment with its crossing, or the whole uncrossed member. */
  readonly inPlane: ToneTable;
  /** Across the wheel: uncrossed member; or a crossed one pinched at its crossing, the first axis being the pinch. */
  readonly across: ToneTable;
  /** Across, an open pair of equal partners moving together: the full length. Absent without a crossing. */
  readonly pair?: ToneTable;
}

/** What the first tone of the main comb is called. */
export const mainFamily = (prepared: PreparedMember): Family =>
  prepared.described.member.crossingFromHub === undefined ? 'whole' : 'segment';
export const tableOf = (prepared: PreparedMember, plane: Plane): ToneTable => prepared[plane];

const WIDE = 2.64; // ln 14: clampedness 0.07..0.93 at 1000 N
const REFERENCE_TENSION = 1000;
/** Stiffness of fingers pinching a crossing, across the wheel, N/m. @source own finite-element trial: 5e4 … 1e6 */
const PINCH = { low: 3e4, high: 2e6 };

/**
 * Tabulates the tones of a described member.
 *
 * Method: exact modes at Chebyshev points of the end clampedness on a ladder of tensions, interpolated to a grid of ln k at each end;
 * sensitivities by implicit differences of the determinant at the roots. Deterministic; about 0.1 s.
 * @throws RangeError naming the value if the member is impossible (ask `checkMember` first)
 * @validity interpolation within 2e-5 of the exact frequencies for 8..6500 N between the end stiffnesses of the prior
 */
export const prepareMember = (described: DescribedMember): PreparedMember => {
  const { member } = described;
  const problem = checkMember(member);
  if (problem !== undefined) throw new RangeError(problem);
  const broad = broadPrior(described);
  const endPrior = { hub: described.endPrior?.hub ?? broad, rim: described.endPrior?.rim ?? broad };
  for (const [name, end] of Object.entries(endPrior))
    if (!(end.low > 0 && end.high >= end.low && end.high < 1e6))
      throw new RangeError(`end stiffness of the ${name} is ${end.low}..${end.high} N·m/rad, expected 0 < low ≤ high`);
  const hub = spreadPrior(endPrior.hub.low, endPrior.hub.high);
  const rim = spreadPrior(endPrior.rim.low, endPrior.rim.high);
  if (member.crossingFromHub === undefined)
    return {
      described,
      endPrior,
      inPlane: tabulate(member, 'inPlane', { hub, rim, hubPoints: 7, rimPoints: 7, step: 0.24, modes: 6 }),
      across: tabulate(member, 'across', { hub, rim, hubPoints: 7, rimPoints: 7, step: 0.24, modes: 6 }),
    };
  const coarse = spreadPrior(endPrior.hub.low, endPrior.hub.high, 3);
  const coarseRim = spreadPrior(endPrior.rim.low, endPrior.rim.high, 5);
  return {
    described,
    endPrior,
    inPlane: tabulate(member, 'inPlane', {
      hub: coarse,
      rim,
      hubPoints: 3,
      rimPoints: 8,
      step: 0.1,
      modes: 8,
      support: crossingSupport(member),
    }),
    across: tabulate(member, 'across', {
      hub: spreadPrior(PINCH.low, PINCH.high, 5),
      rim: coarseRim,
      hubPoints: 4,
      rimPoints: 3,
      step: 0.2,
      modes: 6,
      support: 'hubAxis',
      hubEnd: Math.sqrt(endPrior.hub.low * endPrior.hub.high),
    }),
    pair: tabulate(member, 'across', { hub: coarse, rim: coarseRim, hubPoints: 3, rimPoints: 3, step: 0.24, modes: 5 }),
  };
};

/**
 * Nearly pinned to nearly clamped, for supports of unknown kind: the end's stiffness against that of the longest section, √(T·EI), at
 * 1000 N. Sleeves and nipples at the ends do not count: what lies behind them gives way first.
 * @source no published value for elbows and nipple seats exists; the range spans clampedness 0.07..0.93
 */
const broadPrior = (described: DescribedMember): EndPrior => {
  const { sections } = described.member;
  const longest = sections.reduce((a, b) => (b.length > a.length ? b : a), sections[0] as Section);
  const own = Math.sqrt(REFERENCE_TENSION * Math.sqrt(longest.bendingInPlane * longest.bendingAcross));
  return {
    low: newtonMetresPerRadian(own * Math.exp(-WIDE)),
    high: newtonMetresPerRadian(own * Math.exp(WIDE)),
  };
};
