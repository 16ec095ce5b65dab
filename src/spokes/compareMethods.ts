import type { Reading } from '../contract.ts';
import { type Agreement, agreement, type PairedSpoke, withinVariance } from './agreement.ts';
import { deming, type LineFit } from './deming.ts';
import { passingBablok } from './passingBablok.ts';
import type { Side } from './wheel.ts';

/** One spoke by the second method, in newtons. */
export interface SecondReading {
  /** Repeats in the order read. */
  readonly valuesN: readonly number[];
  /** Standard uncertainty of one value, the gauge's own. */
  readonly uN: number;
}

export interface SideComparison {
  readonly side: Side;
  readonly agreement: { readonly ok: true } & Agreement;
  /** Ear (y) against the second method (x), errors in both. */
  readonly deming?: LineFit & { readonly ratio: number; readonly ratioFrom: 'repeats' | 'mixed' | 'uncertainties' };
  readonly passingBablok?: LineFit;
  /** Spokes whose two readings lie farther apart than both uncertainties allow. */
  readonly disagreeing: readonly { readonly spoke: number; readonly differenceN: number; readonly expandedN: number }[];
  /** By so much both methods' scales together may be off for all spokes alike, k = 2: a bias below it proves neither wrong. */
  readonly scaleExpandedN: number;
  readonly conclusion: ComparisonConclusion;
}

/** What the numbers say, for one plain sentence each. */
export type ComparisonConclusion =
  /** The bias's interval holds zero and the limits are narrower than both methods' uncertainties. */
  | 'agree'
  /** A constant difference, otherwise as near as the methods allow. */
  | 'biased'
  /** The difference grows or shrinks with tension. */
  | 'proportional'
  /** Scatter beyond both uncertainties: one of them is worse than it says. */
  | 'scattered';

export interface MethodComparison {
  readonly sides: readonly SideComparison[];
  /** Sides on which the second method read spokes, with too few pairs. */
  readonly tooFew: readonly Side[];
}

const COVERAGE = 2;

/**
 * A round by ear beside a second method, each side by itself.
 *
 * Differences are ear − second. The ratio of variances for Deming's line comes from each method's repeats where it has them, otherwise
 * from its stated uncertainty. Several rounds by ear are repeats.
 *
 * @param ear Readings of each round by spoke number; one round or more.
 * @param sides Side of each place.
 */
export function compareMethods(
  ear: readonly ReadonlyMap<number, Reading>[],
  second: ReadonlyMap<number, SecondReading>,
  sides: readonly Side[],
): MethodComparison {
  const compared: SideComparison[] = [];
  const tooFew: Side[] = [];
  for (const side of ['left', 'right'] as const) {
    const pairs = [...second].flatMap(([spoke, { valuesN, uN }]) => {
      const readings = ear.flatMap((round) => round.get(spoke) ?? []);
      return sides[spoke - 1] === side && readings.length > 0 && valuesN.length > 0
        ? [{ spoke, first: readings.map((one) => one.tensionN as number), second: valuesN, readings, uN }]
        : [];
    });
    const one = pairs.length > 0 ? compareSide(side, pairs) : undefined;
    if (one) compared.push(one);
    else if ([...second.keys()].some((spoke) => sides[spoke - 1] === side)) tooFew.push(side);
  }
  return { sides: compared, tooFew };
}

interface Pair extends PairedSpoke {
  readonly readings: readonly Reading[];
  readonly uN: number;
}

function compareSide(side: Side, pairs: readonly Pair[]): SideComparison | undefined {
  const result = agreement(pairs);
  if (!result.ok) return undefined;
  const ear = pairs.map((pair) => mean(pair.first));
  const other = pairs.map((pair) => mean(pair.second));
  const { ratio, ratioFrom } = varianceRatio(pairs);
  const line = deming(other, ear, ratio);
  const robust = passingBablok(other, ear);
  const common = mean(pairs.flatMap((pair) => pair.readings.map((one) => one.uCommonN as number)));
  const own = (pair: Pair) => Math.sqrt(mean(pair.readings.map((one) => one.uOwnN ** 2)) / pair.readings.length);
  const disagreeing = pairs.flatMap((pair, i) => {
    const differenceN = (ear[i] ?? 0) - (other[i] ?? 0);
    const expandedN = COVERAGE * Math.hypot(own(pair), common, pair.uN);
    return Math.abs(differenceN) > expandedN ? [{ spoke: pair.spoke, differenceN, expandedN }] : [];
  });
  // What may vary from spoke to spoke: the ear's own part and the gauge's repeatability; without repeats its whole uncertainty.
  const repeats = withinVariance(pairs.map((pair) => pair.second));
  const gauge = repeats.degrees > 0 ? repeats.variance : mean(pairs.map((pair) => pair.uN ** 2));
  const expectedSd = Math.sqrt(mean(pairs.map((pair) => own(pair) ** 2)) + gauge);
  return {
    side,
    agreement: result,
    ...(line.ok ? { deming: { slope: line.slope, intercept: line.intercept, ratio, ratioFrom } } : {}),
    ...(robust.ok ? { passingBablok: { slope: robust.slope, intercept: robust.intercept } } : {}),
    disagreeing,
    scaleExpandedN: COVERAGE * Math.hypot(common, mean(pairs.map((pair) => pair.uN))),
    conclusion: concludeFrom(result, expectedSd),
  };
}

function concludeFrom(result: Agreement, expectedSd: number): ComparisonConclusion {
  // About two standard errors of a standard deviation below it: beyond that the scatter is more than chance.
  const { residualSd, evident } = result.proportional;
  const least = residualSd * (1 - COVERAGE / Math.sqrt(2 * (result.count - 2)));
  if (least > expectedSd) return 'scattered';
  if (evident) return 'proportional';
  return result.bias.low > 0 || result.bias.high < 0 ? 'biased' : 'agree';
}

/** Of the means that are plotted: each method's scatter by its repeats where it has them, else as stated, over its number of repeats. */
function varianceRatio(pairs: readonly Pair[]): {
  readonly ratio: number;
  readonly ratioFrom: NonNullable<SideComparison['deming']>['ratioFrom'];
} {
  const of = (readings: readonly (readonly number[])[], stated: number) => {
    const { variance, degrees } = withinVariance(readings);
    const repeated = degrees > 0 && variance > 0;
    const share = mean(readings.map((one) => 1 / one.length));
    return { variance: share * (repeated ? variance : stated), repeated };
  };
  const ear = of(
    pairs.map((pair) => pair.first),
    mean(pairs.flatMap((pair) => pair.readings.map((one) => one.uOwnN ** 2))),
  );
  const other = of(
    pairs.map((pair) => pair.second),
    mean(pairs.map((pair) => pair.uN ** 2)),
  );
  return {
    ratio: ear.variance > 0 && other.variance > 0 ? ear.variance / other.variance : 1,
    ratioFrom: ear.repeated && other.repeated ? 'repeats' : ear.repeated || other.repeated ? 'mixed' : 'uncertainties',
  };
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
