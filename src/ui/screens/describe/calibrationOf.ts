import type { SpareSpoke } from '../../../spokes/describeSpare.ts';
import type { Calibration, Pluck, Round } from '../../../spokes/wheel.ts';

/** Stated intervals are read as two standard uncertainties, percent of the load. */
const COVERAGE_PERCENT = 200;
/** The same of a length. */
export const COVERAGE = 2;

/** The load as a person states it. */
export interface StatedLoad {
  readonly loadN: number;
  /** The stated ±, two standard uncertainties. */
  readonly percent: number;
  readonly method: string;
}

const kept = ({ loadN, percent, method }: StatedLoad) => ({
  loadN,
  uLoadN: (loadN * percent) / COVERAGE_PERCENT,
  method: method.trim() === '' ? 'not stated' : method.trim(),
});

/** A spoke of the wheel at a known tension, as the wheel keeps it. */
export const calibrationOf = (id: string, round: Round, spoke: number, load: StatedLoad): Calibration => ({
  id,
  kind: 'inWheel',
  spoke,
  ...kept(load),
  roundId: round.id,
});

/** A loose spoke under a known load, with its plucks. */
export function spareCalibrationOf(
  id: string,
  spare: SpareSpoke,
  load: StatedLoad,
  plucks: readonly Pluck[],
): Calibration {
  const [pluck, ...morePlucks] = plucks;
  return {
    id,
    kind: 'spare',
    ...kept(load),
    ...spare,
    ...(pluck === undefined ? {} : { pluck }),
    ...(morePlucks.length === 0 ? {} : { morePlucks }),
  };
}

/** The stated ± again. */
export const statedPercent = (calibration: Calibration): number =>
  (COVERAGE_PERCENT * calibration.uLoadN) / calibration.loadN;
