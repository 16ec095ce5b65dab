import type { Family, Plane } from '../contract.ts';
import { newtonMetresPerRadian } from '../units.ts';
import { checkMember } from './checkMember.ts';
import { gripPrior } from './gripPrior.ts';
import type { DescribedMember, EndPrior, Member, Section } from './member.ts';
import { spreadPrior } from './spreadPrior.ts';
import { tabulate } from './tabulate.ts';
import type { ToneTable } from './toneTable.ts';

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
  const spacing = spacingFor(member);
  const hub = spreadPrior(endPrior.hub.low, endPrior.hub.high, spacing);
  const rim = spreadPrior(endPrior.rim.low, endPrior.rim.high, spacing);
  if (member.crossingFromHub === undefined) {
    const options = { hub, rim, hubPoints: 7, rimPoints: 7, step: 0.24, modes: 6 };
    return {
      described,
      endPrior,
      inPlane: tabulate(member, 'inPlane', options),
      across: tabulate(member, 'across', options),
    };
  }
  // Beyond a held crossing the hub's end hardly shows (0.1–0.3 % in tension): three centres are enough.
  const grip = gripPrior(member);
  const hubSigma = Math.log(endPrior.hub.high / endPrior.hub.low) / Math.sqrt(12);
  const hubEnd = Math.sqrt(endPrior.hub.low * endPrior.hub.high);
  const coarseHub = spreadPrior(
    endPrior.hub.low,
    endPrior.hub.high,
    Math.log(endPrior.hub.high / endPrior.hub.low) / 3,
  );
  const pinch = spreadPrior(PINCH.low, PINCH.high, 0.85);
  const held = { rim, hubPoints: 4, rimPoints: 8, step: 0.1, modes: 8 };
  return {
    described,
    endPrior,
    inPlane: tabulate(member, 'inPlane', {
      ...held,
      hub: grip,
      support: 'hubAxis',
      hubEnd,
      secondSigma: hubSigma,
    }),
    across: tabulate(member, 'across', {
      hub: pinch,
      rim,
      hubPoints: 4,
      rimPoints: 4,
      step: 0.2,
      modes: 6,
      support: 'hubAxis',
      hubEnd,
      secondSigma: hubSigma,
    }),
    pair: tabulate(member, 'across', { hub: coarseHub, rim, hubPoints: 3, rimPoints: 3, step: 0.24, modes: 5 }),
  };
};

const SHARE_STEP = 1.25;
/**
 * Spacing of the ends' grid, nat: within a cell the tones must be linear in ln k to about 0.03 %. The curvature grows with the share of
 * the ringing length that an end's bending takes up, √(EI/T)/L.
 */
const spacingFor = (member: Member): number => {
  const crossing = member.crossingFromHub ?? 0;
  let at = 0;
  let ringing = 0;
  let flexibility = 0;
  for (const s of member.sections) {
    const inside = Math.max(at + s.length - Math.max(at, crossing), 0);
    at += s.length;
    ringing += inside;
    flexibility += inside / Math.max(s.bendingInPlane, s.bendingAcross);
  }
  const exact = Math.sqrt(ringing / flexibility / 500) / ringing;
  // In steps, so that spokes of one side that differ by a millimetre have the same grid.
  const share = SHARE_STEP ** Math.round(Math.log(exact) / Math.log(SHARE_STEP));
  return Math.min(Math.max(0.66 * Math.sqrt(0.07 / share), 0.22), 0.66);
};

/** √(T·EI) of a 2.0 mm steel wire at 1000 N, N·m/rad: the ends of thinner and lighter wires sit in the same seats (`common practice`). */
const SEAT = 12.3;
/**
 * Nearly pinned to nearly clamped, for supports of unknown kind: the end's stiffness against that of the longest section, √(T·EI), at
 * 1000 N, but no less than that of an ordinary seat. Sleeves and nipples at the ends do not count: what lies behind them gives way first.
 * @source no published value for elbows and nipple seats exists; the range spans clampedness 0.07..0.93
 */
const broadPrior = (described: DescribedMember): EndPrior => {
  const { sections } = described.member;
  const longest = sections.reduce((a, b) => (b.length > a.length ? b : a), sections[0] as Section);
  const own = Math.max(Math.sqrt(REFERENCE_TENSION * Math.sqrt(longest.bendingInPlane * longest.bendingAcross)), SEAT);
  return {
    low: newtonMetresPerRadian(own * Math.exp(-WIDE)),
    high: newtonMetresPerRadian(own * Math.exp(WIDE)),
  };
};
