import type { MeasureRefusal, Reading } from '../contract.ts';
import type { DescribedSpoke } from './describeMember.ts';
import { type EvennessVerdict, evennessVerdicts } from './evennessVerdict.ts';
import { expandLayout } from './expandLayout.ts';
import { findOutliers } from './findOutliers.ts';
import { type LimitVerdict, limitVerdict, type StateCorrection, sameState } from './limitVerdict.ts';
import { type NextSteps, nextSteps } from './nextSteps.ts';
import { expectedSideRatio, type SideRatio, sideRatio } from './sideRatio.ts';
import { type SideStatistics, sideStatistics } from './sideStatistics.ts';
import { stateCorrection } from './stateCorrection.ts';
import { allSettlings } from './walkRound.ts';
import type { Limits, Round, Side, Wheel } from './wheel.ts';

export interface JudgedSpoke {
  readonly number: number;
  readonly side: Side;
  /** Absent: not heard. */
  readonly reading?: Reading | MeasureRefusal;
  /** Present with a reading that is a tension. */
  readonly limit?: LimitVerdict;
  readonly evenness?: EvennessVerdict;
  /** Robust standard deviations from its side's median, where that is too many. */
  readonly outlierZ?: number;
}

export interface JudgedSide {
  readonly statistics: SideStatistics;
  /** Standard uncertainty of the mean, common part and own ones over √n. */
  readonly uMeanN: number;
}

export interface WheelJudgement {
  readonly spokes: readonly JudgedSpoke[];
  /** A side without a tension is absent. */
  readonly sides: { readonly left?: JudgedSide; readonly right?: JudgedSide };
  readonly ratio?: SideRatio;
  readonly next: NextSteps;
}

/**
 * Judges a round: every spoke against the limits and its side's mean, the sides against the hub's geometry.
 *
 * @param readings From `readRound`.
 * @param corrections By side, to the limit's state; without one it is computed where rim and states allow.
 * @param described From `readRound`.
 */
export function judgeWheel(
  wheel: Wheel,
  round: Round,
  readings: ReadonlyMap<number, Reading | MeasureRefusal>,
  corrections: Readonly<Partial<Record<Side, StateCorrection>>> = {},
  described: ReadonlyMap<number, DescribedSpoke> = new Map(),
): WheelJudgement {
  const laid = expandLayout(wheel.layout);
  const places = laid.ok ? laid.spokes : [];
  const spokes = new Map<number, JudgedSpoke>(
    places.map(({ number, side }) => {
      const reading = readings.get(number);
      return [number, { number, side, ...(reading ? { reading } : {}) }];
    }),
  );
  const sides: { left?: JudgedSide; right?: JudgedSide } = {};
  for (const side of ['left', 'right'] as const) {
    const own = places.flatMap(({ number, side: at }) => {
      const reading = readings.get(number);
      return at === side && reading?.ok ? [{ number, reading }] : [];
    });
    if (own.length === 0) continue;
    const evenness = evennessVerdicts(
      own.map(({ reading }) => ({ value: reading.tensionN, uOwn: reading.uOwnN })),
      wheel.targetPercent,
    );
    const outliers = findOutliers(
      own.map(({ reading }) => reading.tensionN),
      own.map(({ reading }) => reading.uOwnN),
    );
    for (const [i, { number, reading }] of own.entries()) {
      const limits = wheel.sides?.[side].limits;
      const correction = corrections[side] ?? computedCorrection(wheel, described.get(number), reading, round, limits);
      const outlier = outliers.find((one) => one.index === i);
      const even = evenness[i];
      spokes.set(number, {
        number,
        side,
        reading,
        limit: limitVerdict(reading, limits, round.state, correction),
        ...(even ? { evenness: even } : {}),
        ...(outlier ? { outlierZ: outlier.modifiedZ } : {}),
      });
    }
    const common = own.reduce((sum, { reading }) => sum + reading.uCommonN, 0) / own.length;
    const scatter = Math.sqrt(own.reduce((sum, { reading }) => sum + reading.uOwnN ** 2, 0)) / own.length;
    sides[side] = {
      statistics: sideStatistics(own.map(({ reading }) => reading.tensionN)),
      uMeanN: Math.hypot(common, scatter),
    };
  }
  const settlings = allSettlings({ round, sides: places.map((place) => place.side) });
  const unsettled = settlings.flatMap((settling, i) =>
    settling.state !== 'settled' && settling.agreeing.length > 0 ? [i + 1] : [],
  );
  const ratio = ratioOf(wheel, places, readings, described);
  return {
    spokes: [...spokes.values()],
    sides,
    ...(ratio ? { ratio } : {}),
    next: nextSteps(readings, unsettled),
  };
}

function computedCorrection(
  wheel: Wheel,
  spoke: DescribedSpoke | undefined,
  reading: Reading,
  round: Round,
  limits: Limits | undefined,
): StateCorrection | undefined {
  if (!spoke || !limits || sameState(round.state, limits.state)) return undefined;
  const correction = stateCorrection(wheel, spoke, reading.tensionN, round.state, limits.state);
  return correction.ok ? correction : undefined;
}

function ratioOf(
  wheel: Wheel,
  places: Parameters<typeof expectedSideRatio>[0],
  readings: ReadonlyMap<number, Reading | MeasureRefusal>,
  described: ReadonlyMap<number, DescribedSpoke>,
): SideRatio | undefined {
  const expected = expectedSideRatio(places);
  if (expected === undefined) return undefined;
  const of = (side: Side) =>
    places.flatMap(({ number, side: at }) => {
      const reading = readings.get(number);
      return at === side && reading?.ok ? [reading] : [];
    });
  const kinds = new Set(
    described.size > 0
      ? [...described.values()].map((one) => one.kindId)
      : [wheel.sides?.left.kindId, wheel.sides?.right.kindId],
  );
  return sideRatio(expected, { left: of('left'), right: of('right') }, kinds.size === 1);
}
