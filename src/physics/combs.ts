import type { Family, How, Plane } from '../contract.ts';
import { lnFrequencyAt, middleOf } from './lineAt.ts';
import type { PreparedMember } from './prepareMember.ts';
import type { ToneTable } from './toneTable.ts';

/** A family of tones that a pluck may have brought out. */
export interface Comb {
  readonly table: ToneTable;
  readonly plane: Plane;
  /** The other plane, if its tones stand apart and must fit the same tension. */
  readonly beside?: ToneTable;
  readonly family: Family;
  /** ln of its prior, from how the spoke was plucked. */
  readonly lnPrior: number;
}

/**
 * Which combs to look for.
 *
 * Along the rim friction holds the crossing still, pinched or not: the segment rings alone. Across the wheel an open pair rings
 * together over its full length at the mean of two tensions; a pinched one as a segment with a soft support. A person's word on the
 * direction is evidence, not law.
 * @source own finite-element trial of a coupled pair (see MODEL.md)
 */
export const combsOf = (prepared: PreparedMember, hows: readonly How[]): Comb[] => {
  const average = (weight: (how: How) => number): number =>
    hows.length === 0 ? weight(UNKNOWN) : hows.reduce((sum, how) => sum + weight(how), 0) / hows.length;
  const along = average((how) => (how.direction === 'inPlane' ? 0.97 : how.direction === 'across' ? 0.08 : 0.6));
  const combs: Comb[] = [];
  const add = (table: ToneTable, family: Family, weight: number, beside?: ToneTable): void => {
    if (weight > 0.004)
      combs.push({ table, plane: table.plane, family, lnPrior: Math.log(weight), ...(beside && { beside }) });
  };
  if (prepared.described.member.crossingFromHub === undefined) {
    const { inPlane, across } = prepared;
    const apart = standApart(inPlane, across);
    add(inPlane, 'whole', along, apart ? across : undefined);
    add(across, 'whole', 1 - along, apart ? inPlane : undefined);
    return combs;
  }
  const held = average((how) => (how.crossing === 'held' ? 1 : 0));
  add(prepared.inPlane, 'segment', along);
  add(prepared.across, 'segment', (1 - along) * held);
  if (prepared.pair !== undefined) add(prepared.pair, 'pair', (1 - along) * (1 - held));
  return combs;
};

/** The first tones of the two planes differ by more than this, in ln f: no doublet of one mode. */
const APART = 0.04;
const standApart = (inPlane: ToneTable, across: ToneTable): boolean => {
  const first = (table: ToneTable): number => lnFrequencyAt(table, middleOf(table), 0, Math.log(1000));
  return Math.abs(first(inPlane) - first(across)) > APART;
};

const UNKNOWN: How = { crossing: 'free', direction: 'unknown' };
