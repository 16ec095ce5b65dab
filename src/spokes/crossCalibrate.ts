import type { MeasureRefusal, Reading } from '../contract.ts';
import { withinVariance } from './agreement.ts';
import type { SecondReading } from './compareMethods.ts';
import { judgeLeftOut, type LeftOutJudgement } from './judgeLeftOut.ts';
import { readRound } from './readRound.ts';
import type { Prepare } from './rememberPrepared.ts';
import type { Calibration, Round, Side, Wheel } from './wheel.ts';

export interface CrossCalibration {
  /** Every spoke's reading, calibrated by spokes of the other half only. */
  readonly readings: ReadonlyMap<number, Reading | MeasureRefusal>;
  /** Spokes that calibrated the other half, and were judged with the other's help. */
  readonly halves: readonly [readonly number[], readonly number[]];
  /** Sides with both readings of a spoke. */
  readonly sides: readonly { readonly side: Side; readonly leftOut: LeftOutJudgement }[];
}

/**
 * Calibrates the ear by a second method without judging agreement on the spokes that calibrated.
 *
 * The spokes with a second reading are dealt into two halves, in turn on each side; each half is read with the other half's tensions known.
 * Agreement may then be judged on all of them, for none has seen its own. The gauge's own uncertainty is that of its calibration, one for all its
 * readings: n of them are weighed so that together they are as sure as it and no surer, u² = n u_gauge² + s_r²/m. Spokes whose tension was
 * known by other means take no part: their reading is pulled by it.
 *
 * @param most How many spokes of a half calibrate, for a gauge is seldom put on all.
 * @source JCGM 100:2008, 4.2.7 and F.1.2.3 (what readings share does not average out)
 */
export function crossCalibrate(
  wheel: Wheel,
  round: Round,
  second: ReadonlyMap<number, SecondReading>,
  sides: readonly Side[],
  prepare: Prepare,
  most = Number.POSITIVE_INFINITY,
): CrossCalibration {
  const known = new Set(wheel.calibrations.flatMap((one) => (one.kind === 'inWheel' ? [one.spoke] : [])));
  const halves: [number[], number[]] = [[], []];
  for (const side of ['left', 'right'] as const) {
    const own = [...second].filter(
      ([spoke, one]) => sides[spoke - 1] === side && one.valuesN.length > 0 && !known.has(spoke),
    );
    for (const [i, [spoke]] of own.toSorted(([a], [b]) => a - b).entries()) halves[i % 2 === 0 ? 0 : 1].push(spoke);
  }
  const repeats = withinVariance([...second.values()].map((one) => one.valuesN));
  const scatter = (one: SecondReading) => Math.sqrt(repeats.variance / one.valuesN.length);
  const readings = new Map<number, Reading | MeasureRefusal>();
  for (const [judged, calibrating] of [halves, [halves[1], halves[0]]] as const) {
    const chosen = calibrating.slice(0, most);
    const calibrations = chosen.flatMap((spoke): Calibration[] => {
      const one = second.get(spoke);
      if (!one) return [];
      const alike = chosen.filter((other) => sides[other - 1] === sides[spoke - 1]).length;
      return [
        {
          id: `half-${spoke}`,
          kind: 'inWheel',
          spoke,
          loadN: mean(one.valuesN),
          uLoadN: Math.hypot(Math.sqrt(alike) * one.uN, scatter(one)),
          method: 'second method',
          roundId: round.id,
        },
      ];
    });
    const read = readRound({ ...wheel, calibrations: [...wheel.calibrations, ...calibrations] }, round, prepare);
    for (const spoke of judged) {
      const reading = read.readings.get(spoke);
      if (reading) readings.set(spoke, reading);
    }
  }
  const judgedSides = (['left', 'right'] as const).flatMap((side) => {
    const own = [...readings].flatMap(([spoke, reading]) => {
      const other = second.get(spoke);
      return reading.ok && other && sides[spoke - 1] === side ? [{ spoke, reading, other }] : [];
    });
    if (own.length === 0) return [];
    const each = own.map(({ spoke, reading, other }) => ({
      spoke,
      differenceN: reading.tensionN - mean(other.valuesN),
      u: Math.hypot(reading.uOwnN, scatter(other)),
    }));
    // The other half's level is a mean over about half as many spokes.
    const uLevel = Math.sqrt(each.reduce((sum, one) => sum + one.u ** 2, 0)) / each.length;
    const differences = each.map(({ spoke, differenceN, u }) => ({
      spoke,
      differenceN,
      uN: Math.hypot(u, Math.SQRT2 * uLevel),
    }));
    return [{ side, leftOut: judgeLeftOut(differences, repeats.degrees > 0) }];
  });
  return { readings, halves, sides: judgedSides };
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
