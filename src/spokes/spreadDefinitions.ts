/** Ways in which people state the spread of a side. */
export type SpreadDefinition =
  | 'sampleSd' // n − 1
  | 'populationSd' // n
  | 'range' // highest − lowest
  | 'halfRange' // (highest − lowest)/2, stated as ±
  | 'meanAbsoluteDeviation' // mean distance from the mean
  | 'maximumDeviation' // largest distance from the mean
  | 'rangeOverHighest'
  | 'rangeOverLowest';

export interface SpreadValue {
  readonly definition: SpreadDefinition;
  /** In the values' unit. */
  readonly absolute?: number;
  readonly percent: number;
  /** What rounding half a unit in every value can do to it, in units of that half. */
  readonly rounding: number;
}

/** Every definition's value for one set of tensions; at least two values. */
export function spreadValues(values: readonly number[]): readonly SpreadValue[] {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const highest = Math.max(...values);
  const lowest = Math.min(...values);
  const range = highest - lowest;
  const deviations = values.map((value) => Math.abs(value - mean));
  const ofMean = (definition: SpreadDefinition, absolute: number, rounding: number): SpreadValue => ({
    definition,
    absolute,
    percent: (100 * absolute) / mean,
    rounding,
  });
  return [
    ofMean('sampleSd', Math.sqrt(squares / (n - 1)), 1),
    ofMean('populationSd', Math.sqrt(squares / n), 1),
    ofMean('range', range, 2),
    ofMean('halfRange', range / 2, 1),
    ofMean('meanAbsoluteDeviation', deviations.reduce((sum, d) => sum + d, 0) / n, 1),
    ofMean('maximumDeviation', Math.max(...deviations), 2),
    { definition: 'rangeOverHighest', percent: (100 * range) / highest, rounding: 2 },
    { definition: 'rangeOverLowest', percent: (100 * range) / lowest, rounding: 2 },
  ];
}
