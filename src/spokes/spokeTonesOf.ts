import type { SpokeTones } from '../physics/spokeTones.ts';
import { calibrationTones, knownInRound } from './calibrationTones.ts';
import { type DescribedSpoke, describeLaidSpoke } from './describeMember.ts';
import type { DescribeRefusal } from './describeRefusal.ts';
import { expandLayout } from './expandLayout.ts';
import { pluckTones } from './pluckTones.ts';
import type { Prepare } from './rememberPrepared.ts';
import { plucksOf, settlingOf } from './walkRound.ts';
import type { Pluck, Round, Wheel } from './wheel.ts';

export interface WheelTones {
  /** Every spoke that was heard and is described; calibrations with ids below 1. */
  readonly tones: readonly SpokeTones[];
  /** By spoke number: heard, but not describable. */
  readonly refused: ReadonlyMap<number, DescribeRefusal>;
  readonly described: ReadonlyMap<number, DescribedSpoke>;
  /** Plucks that were used, by spoke. */
  readonly used: ReadonlyMap<number, readonly Pluck[]>;
  /** Which calibration, by its id, the tones with an id below 1 are of. */
  readonly calibrations: ReadonlyMap<number, string>;
}

/**
 * What a round heard, member by member, with the wheel's calibrations beside it: everything the joint fit takes.
 *
 * @param which `settled`: of each spoke the plucks that agree; `all`: every pluck not put aside (a recording that somebody credited).
 */
export function spokeTonesOf(wheel: Wheel, round: Round, prepare: Prepare, which: 'settled' | 'all'): WheelTones {
  const laid = expandLayout(wheel.layout);
  const tones: SpokeTones[] = [];
  const refused = new Map<number, DescribeRefusal>();
  const described = new Map<number, DescribedSpoke>();
  const used = new Map<number, readonly Pluck[]>();
  if (!laid.ok) {
    for (const pluck of round.plucks) refused.set(pluck.spoke, { ...laid, field: `layout.${laid.field}` });
    return { tones, refused, described, used, calibrations: new Map() };
  }
  const sides = laid.spokes.map((spoke) => spoke.side);
  for (const spoke of laid.spokes) {
    const plucks =
      which === 'all' ? plucksOf(round, spoke.number) : settlingOf({ round, sides }, spoke.number).agreeing;
    if (plucks.length === 0) continue;
    const one = describeLaidSpoke(wheel, spoke);
    if (!one.ok) {
      refused.set(spoke.number, one);
      continue;
    }
    described.set(spoke.number, one);
    used.set(spoke.number, plucks);
    const known = knownInRound(wheel.calibrations, round, spoke.number);
    tones.push({
      id: spoke.number,
      prepared: prepare(one.described),
      plucks: plucks.map(pluckTones),
      group: one.group,
      ...(known ? { known } : {}),
    });
  }
  const calibrations = new Map<number, string>();
  let id = 0;
  for (const calibration of wheel.calibrations)
    for (const tone of calibrationTones(wheel, calibration, round, prepare, described)) {
      tones.push({ ...tone, id: --id });
      calibrations.set(id, calibration.id);
    }
  return { tones, refused, described, used, calibrations };
}
