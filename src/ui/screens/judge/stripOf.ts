import type { StripPicture, StripSide } from '../../../drawing/stripPicture.ts';
import { COVERAGE } from '../../../spokes/limitVerdict.ts';
import type { Side, Wheel } from '../../../spokes/wheel.ts';
import { newtons, tensionIn } from '../../../units.ts';
import type { Judgement } from './judgementOf.ts';

/** How the picture is read. */
export const STRIP_KEY =
  'More tension lies further from the line: tight is up on the left side and down on the right. Full lines: limits; chain line: the side’s mean; band: the target of evenness; whiskers: the ± of each spoke.';

/** The unrolled round: tensions with limits and targets, or percent of the side's mean where only evenness is known. */
export function stripOf(wheel: Wheel, judgement: Judgement): StripPicture {
  const { kind, unit } = judgement;
  const shown = (valueN: number) => tensionIn(newtons(valueN), unit);
  const spokes = [...judgement.spokes.values()].map((spoke) => {
    const base = { number: spoke.number, side: spoke.side, mark: spoke.mark };
    if (kind === 'evenness') {
      return spoke.evenness === undefined || spoke.figure === undefined
        ? base
        : { ...base, value: spoke.evenness.deviationPercent, plusMinus: spoke.evenness.expandedPercent };
    }
    const reading = spoke.judged.reading;
    if (reading?.ok !== true || spoke.figure === undefined) return base;
    return {
      ...base,
      value: shown(reading.tensionN),
      plusMinus: shown(COVERAGE * Math.hypot(reading.uOwnN, reading.uCommonN)),
    };
  });
  const target = wheel.targetPercent;
  const sideOf = (side: Side): StripSide => {
    if (kind === 'evenness') return { mean: 0, target: { low: -target, high: target } };
    const mean = judgement.judged.sides[side]?.statistics.mean;
    const limits = wheel.sides?.[side].limits;
    return {
      ...(mean === undefined
        ? {}
        : {
            mean: shown(mean),
            target: { low: shown(mean * (1 - target / 100)), high: shown(mean * (1 + target / 100)) },
          }),
      ...(limits?.minimumN === undefined ? {} : { minimum: shown(limits.minimumN) }),
      ...(limits?.maximumN === undefined ? {} : { maximum: shown(limits.maximumN) }),
    };
  };
  return { unit: kind === 'evenness' ? '% of mean' : unit, spokes, left: sideOf('left'), right: sideOf('right') };
}
