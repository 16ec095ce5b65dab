import type { MeasureRefusal, Reading } from '../contract.ts';
import type { SecondReading } from './compareMethods.ts';
import { readRound } from './readRound.ts';
import type { Prepare } from './spokeTonesOf.ts';
import type { Calibration, Round, Side, Wheel } from './wheel.ts';

export interface CrossCalibration {
  /** Every spoke's reading, calibrated by spokes of the other half only. */
  readonly readings: ReadonlyMap<number, Reading | MeasureRefusal>;
  /** Spokes that calibrated the other half, and were judged with the other's help. */
  readonly halves: readonly [readonly number[], readonly number[]];
}

/**
 * Calibrates the ear by a second method without judging agreement on the spokes that calibrated.
 *
 * The spokes with a second reading are dealt into two halves, in turn on each side; each half is read with the other half's tensions known.
 * Agreement may then be judged on all of them, for none has seen its own.
 *
 * @param most How many spokes of a half calibrate, for a gauge is seldom put on all.
 */
export function crossCalibrate(
  wheel: Wheel,
  round: Round,
  second: ReadonlyMap<number, SecondReading>,
  sides: readonly Side[],
  prepare: Prepare,
  most = Number.POSITIVE_INFINITY,
): CrossCalibration {
  const halves: [number[], number[]] = [[], []];
  for (const side of ['left', 'right'] as const) {
    const own = [...second.keys()].filter((spoke) => sides[spoke - 1] === side).toSorted((a, b) => a - b);
    for (const [i, spoke] of own.entries()) halves[i % 2 === 0 ? 0 : 1].push(spoke);
  }
  const readings = new Map<number, Reading | MeasureRefusal>();
  for (const [judged, calibrating] of [halves, [halves[1], halves[0]]] as const) {
    const calibrations = calibrating.slice(0, most).flatMap((spoke): Calibration[] => {
      const one = second.get(spoke);
      if (!one || one.valuesN.length === 0) return [];
      const loadN = one.valuesN.reduce((sum, value) => sum + value, 0) / one.valuesN.length;
      return [
        {
          id: `half-${spoke}`,
          kind: 'inWheel',
          spoke,
          loadN,
          uLoadN: one.uN,
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
  return { readings, halves };
}
