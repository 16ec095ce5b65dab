import type { DescribedMember, Section } from '../physics/member.ts';
import type { PreparedMember } from '../physics/prepareMember.ts';
import type { PluckTones, SpokeTones } from '../physics/spokeTones.ts';
import { metres, millimetres, newtons } from '../units.ts';
import { DEFAULT_UNCERTAINTY, type DescribedSpoke, describeLaidSpoke } from './describeMember.ts';
import type { DescribeRefusal } from './describeRefusal.ts';
import { expandLayout } from './expandLayout.ts';
import { kindSections } from './kindSections.ts';
import { plucksOf, settlingOf } from './walkRound.ts';
import type { Calibration, Pluck, Round, Wheel } from './wheel.ts';

/** Makes a member ready, once for each different one: `prepareMember` behind a memory. */
export type Prepare = (described: DescribedMember) => PreparedMember;

/** A memory for prepared members: the same description is tabulated once. */
export function rememberPrepared(prepare: Prepare): Prepare {
  const known = new Map<string, PreparedMember>();
  return (described) => {
    // Spokes of one side differ in the last digits of their computed lengths; to nine digits they are one member.
    const key = JSON.stringify(described, (_, value: unknown) =>
      typeof value === 'number' ? value.toPrecision(9) : value,
    );
    const prepared = known.get(key) ?? prepare(described);
    known.set(key, prepared);
    return prepared;
  };
}

export interface WheelTones {
  /** Every spoke that was heard and is described; calibrations with ids below 1. */
  readonly tones: readonly SpokeTones[];
  /** By spoke number: heard, but not describable. */
  readonly refused: ReadonlyMap<number, DescribeRefusal>;
  readonly described: ReadonlyMap<number, DescribedSpoke>;
  /** Plucks that were used, by spoke. */
  readonly used: ReadonlyMap<number, readonly Pluck[]>;
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
    return { tones, refused, described, used };
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
  const groups = new Set([...described.values()].map((one) => one.group));
  let id = 0;
  for (const calibration of wheel.calibrations) {
    for (const tone of calibrationTones(wheel, calibration, round, prepare, groups)) tones.push({ ...tone, id: --id });
  }
  return { tones, refused, described, used };
}

const pluckTones = ({ tones, covarianceHz2, hypotheses, flags, how }: Pluck): PluckTones => ({
  tones,
  covarianceHz2,
  hypotheses,
  flags,
  how,
});

/** A known tension without a pluck of its own belongs to the spoke as this round heard it. */
function knownInRound(
  calibrations: readonly Calibration[],
  round: Round,
  spoke: number,
): SpokeTones['known'] | undefined {
  const own = calibrations.filter(
    (one) =>
      one.kind === 'inWheel' &&
      one.spoke === spoke &&
      !one.pluck &&
      (one.roundId === undefined || one.roundId === round.id),
  );
  if (own.length === 0) return undefined;
  // Several of one spoke: their weighted mean. @source JCGM 100:2008, H.5 (weighted mean)
  const weight = own.reduce((sum, one) => sum + 1 / one.uLoadN ** 2, 0);
  const tension = own.reduce((sum, one) => sum + one.loadN / one.uLoadN ** 2, 0) / weight;
  return { tension: newtons(tension), u: newtons(1 / Math.sqrt(weight)) };
}

/** Calibrations that bring tones of their own: loose spokes under load, and spokes heard at a known tension at another time. */
function calibrationTones(
  wheel: Wheel,
  calibration: Calibration,
  round: Round,
  prepare: Prepare,
  groups: ReadonlySet<string>,
): readonly Omit<SpokeTones, 'id'>[] {
  const known = { tension: newtons(calibration.loadN), u: newtons(calibration.uLoadN) };
  if (calibration.kind === 'spare') {
    const member = calibration.pluck && spareMember(wheel, calibration);
    if (!member || !calibration.pluck) return [];
    const plucks = [pluckTones(calibration.pluck)];
    // Shares mass and stiffness with every side that has its kind.
    return [...groups]
      .filter((group) => group.endsWith(` ${calibration.kindId}`))
      .map((group) => ({ prepared: prepare(member), plucks, group, known, spare: true }));
  }
  if (calibration.spoke === undefined) return [];
  const heardThen = calibration.pluck
    ? [calibration.pluck]
    : calibration.roundId !== undefined && calibration.roundId !== round.id
      ? plucksOf(
          wheel.rounds.find((one) => one.id === calibration.roundId) ?? { ...round, plucks: [] },
          calibration.spoke,
        )
      : [];
  const laid = expandLayout(wheel.layout);
  const spoke = laid.ok ? laid.spokes[calibration.spoke - 1] : undefined;
  const one = spoke && describeLaidSpoke(wheel, spoke);
  if (heardThen.length === 0 || !one?.ok || !groups.has(one.group)) return [];
  return [{ prepared: prepare(one.described), plucks: heardThen.map(pluckTones), group: one.group, known }];
}

/** A loose spoke between the grips of the load: its wire alone, uncrossed. */
function spareMember(wheel: Wheel, calibration: Calibration): DescribedMember | undefined {
  const kind = calibration.kindId === undefined ? undefined : wheel.kinds[calibration.kindId];
  if (!kind || calibration.supportLengthMm === undefined) return undefined;
  const length = millimetres(calibration.supportLengthMm);
  const laid = kindSections(kind, `kinds.${kind.id}`, length, metres(0), kind.head ?? 'none');
  if (!laid.ok) return undefined;
  const sections: readonly Section[] = laid.sections;
  return {
    member: { sections },
    uncertainty: {
      massRelative: laid.massRelative,
      length: DEFAULT_UNCERTAINTY.ruler,
      crossing: metres(0),
      stiffnessRelative: laid.stiffnessRelative,
    },
  };
}
