/** One spoke's difference of two methods, the calibration made without it. */
export interface LeftOutDifference {
  readonly spoke: number;
  /** Ear less gauge. */
  readonly differenceN: number;
  /** Standard uncertainty of the difference: what both methods do spoke by spoke, and the calibration's own. What they share is not in it. */
  readonly uN: number;
}

export interface LeftOutJudgement {
  readonly count: number;
  /** Root mean square of the differences. */
  readonly rmsN: number;
  /** The same as both methods' scatter lets expect. */
  readonly expectedN: number;
  /**
   * `asExpected`: no more than both scatters explain; `scattered`: more; `untested`: one method's scatter was taken from these very differences,
   * so they cannot test it.
   */
  readonly word: 'asExpected' | 'scattered' | 'untested';
  /** Farther apart than 2 u. */
  readonly beyond: readonly LeftOutDifference[];
  readonly differences: readonly LeftOutDifference[];
}

const COVERAGE = 2;

/**
 * How two methods agree on spokes that had no part in making them alike.
 *
 * @param tested Whether the uncertainties are known from elsewhere than these differences.
 * @source Prediction error of left-out cases: Allen, Technometrics 16 (1974) 125; a standard deviation's own uncertainty s/√(2n): JCGM 100:2008, E.4.3
 */
export function judgeLeftOut(differences: readonly LeftOutDifference[], tested: boolean): LeftOutJudgement {
  const n = differences.length;
  const rms = (of: (one: LeftOutDifference) => number) =>
    n === 0 ? 0 : Math.sqrt(differences.reduce((sum, one) => sum + of(one) ** 2, 0) / n);
  const rmsN = rms((one) => one.differenceN);
  const expectedN = rms((one) => one.uN);
  const least = rmsN * (1 - COVERAGE / Math.sqrt(2 * Math.max(1, n)));
  return {
    count: n,
    rmsN,
    expectedN,
    word: !tested ? 'untested' : least > expectedN ? 'scattered' : 'asExpected',
    beyond: differences.filter((one) => Math.abs(one.differenceN) > COVERAGE * one.uN),
    differences,
  };
}
