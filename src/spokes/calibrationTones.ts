import type { SpokeTones } from '../physics/spokeTones.ts';
import { newtons } from '../units.ts';
import { type DescribedSpoke, describeLaidSpoke } from './describeMember.ts';
import { describeSpare } from './describeSpare.ts';
import { expandLayout } from './expandLayout.ts';
import { pluckTones } from './pluckTones.ts';
import type { Prepare } from './rememberPrepared.ts';
import { settlingOf } from './walkRound.ts';
import type { Calibration, Pluck, Round, Side, Wheel } from './wheel.ts';

/** A known tension without a pluck of its own belongs to the spoke as this round heard it. */
export function knownInRound(
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

/**
 * Calibrations that bring tones of their own, as the joint fit takes them: loose spokes under load, and spokes heard at a known tension at
 * another time. A loose spoke is given to every side that has its kind, for it shares their mass and stiffness.
 *
 * @param described The spokes that were heard, by number: their groups are the ones that can learn.
 */
export function calibrationTones(
  wheel: Wheel,
  calibration: Calibration,
  round: Round,
  prepare: Prepare,
  described: ReadonlyMap<number, DescribedSpoke>,
): readonly Omit<SpokeTones, 'id'>[] {
  const known = { tension: newtons(calibration.loadN), u: newtons(calibration.uLoadN) };
  const own = calibration.pluck ? [calibration.pluck, ...(calibration.morePlucks ?? [])] : [];
  const groups = new Map<string, Side>();
  for (const { group, spoke, kindId } of described.values())
    if (calibration.kind !== 'spare' || kindId === calibration.kindId) groups.set(group, spoke.side);
  if (calibration.kind === 'spare') {
    if (own.length === 0) return [];
    return [...groups].flatMap(([group, side]) => {
      const spare = describeSpare(wheel, side, calibration);
      if (!spare.ok) return [];
      return [{ prepared: prepare(spare.described), plucks: own.map(pluckTones), group, known, spare: true }];
    });
  }
  if (calibration.spoke === undefined) return [];
  const plucks = own.length > 0 ? own : heardThen(wheel, calibration, round);
  const laid = expandLayout(wheel.layout);
  const spoke = laid.ok ? laid.spokes[calibration.spoke - 1] : undefined;
  const one = spoke && describeLaidSpoke(wheel, spoke);
  if (plucks.length === 0 || !one?.ok || !groups.has(one.group)) return [];
  return [{ prepared: prepare(one.described), plucks: plucks.map(pluckTones), group: one.group, known }];
}

/** What the calibration's own round settled its spoke by, if that is another round than this. */
function heardThen(wheel: Wheel, { roundId, spoke }: Calibration, round: Round): readonly Pluck[] {
  if (roundId === undefined || roundId === round.id || spoke === undefined) return [];
  const then = wheel.rounds.find((one) => one.id === roundId);
  const laid = expandLayout(wheel.layout);
  if (then === undefined || !laid.ok) return [];
  return settlingOf({ round: then, sides: laid.spokes.map((one) => one.side) }, spoke).agreeing;
}
