import { median } from './median.ts';

/** Names of the figures of a side; the words and formulas stand with the screens. */
export type SpreadMetric = 'standardDeviation' | 'range' | 'meanAbsoluteDeviation' | 'maximumDeviation';

export interface SideStatistics {
  readonly count: number;
  /** Arithmetic mean, in the values' unit. */
  readonly mean: number;
  readonly median: number;
  readonly lowest: number;
  readonly highest: number;
  /** Square root of the sum of squared deviations over n − 1; absent for a single spoke. */
  readonly standardDeviation?: number;
  /** Each as percent of the mean. Standard deviation with n − 1; range: highest − lowest; the others from the mean. */
  readonly percent: Readonly<Partial<Record<SpreadMetric, number>>>;
}

/**
 * Mean and spread of one side, each by its plain definition.
 *
 * @param values Tensions of one side, positive, any unit; at least one.
 * @throws RangeError for no values.
 */
export function sideStatistics(values: readonly number[]): SideStatistics {
  if (values.length === 0) throw new RangeError('side of no spokes: expected one or more');
  const count = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const lowest = Math.min(...values);
  const highest = Math.max(...values);
  const deviations = values.map((value) => Math.abs(value - mean));
  const percentOf = (value: number) => (100 * value) / mean;
  const standardDeviation = Math.sqrt(deviations.reduce((sum, d) => sum + d ** 2, 0) / (count - 1));
  return {
    count,
    mean,
    median: median(values),
    lowest,
    highest,
    ...(count > 1 ? { standardDeviation } : {}),
    percent: {
      ...(count > 1 ? { standardDeviation: percentOf(standardDeviation) } : {}),
      range: percentOf(highest - lowest),
      meanAbsoluteDeviation: percentOf(deviations.reduce((sum, d) => sum + d, 0) / count),
      maximumDeviation: percentOf(Math.max(...deviations)),
    },
  };
}
