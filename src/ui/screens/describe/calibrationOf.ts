import type { Calibration, Round } from '../../../spokes/wheel.ts';

/** Stated intervals are read as two standard uncertainties, percent of the load. */
const COVERAGE_PERCENT = 200;

/** A spoke of known tension, as the wheel keeps it. @param percent the stated ±, two standard uncertainties */
export const calibrationOf = (
  id: string,
  round: Round,
  spoke: number,
  loadN: number,
  percent: number,
  method: string,
): Calibration => ({
  id,
  kind: 'inWheel',
  spoke,
  loadN,
  uLoadN: (loadN * percent) / COVERAGE_PERCENT,
  method: method.trim() === '' ? 'not stated' : method.trim(),
  roundId: round.id,
});

/** The stated ± again. */
export const statedPercent = (calibration: Calibration): number =>
  (COVERAGE_PERCENT * calibration.uLoadN) / calibration.loadN;
