import type { SpreadMetric } from '../../spokes/sideStatistics.ts';

export type Metric = SpreadMetric | 'mean' | 'median' | 'expanded' | 'sideRatio' | 'target' | 'outlier';

export interface MetricText {
  readonly name: string;
  /** Of what, by which rule: enough to compute it again. */
  readonly definition: string;
}

/** Each figure of the verdict with its definition. A side is always taken by itself. */
export const METRIC_TEXT: Readonly<Record<Metric, MetricText>> = {
  mean: { name: 'mean', definition: 'Sum of the tensions of one side, divided by their number.' },
  median: { name: 'median', definition: 'The middle one of a side’s tensions in order of size.' },
  standardDeviation: {
    name: 'standard deviation',
    definition:
      'Square root of the sum of squared deviations from the side’s mean, divided by the number of spokes less one; as percent of the mean.',
  },
  range: { name: 'range', definition: 'Highest less lowest tension of a side; as percent of its mean.' },
  meanAbsoluteDeviation: {
    name: 'mean absolute deviation',
    definition: 'Mean of the deviations from the side’s mean, all counted positive; as percent of the mean.',
  },
  maximumDeviation: {
    name: 'largest deviation',
    definition: 'The largest deviation from the side’s mean, counted positive; as percent of the mean.',
  },
  expanded: {
    name: '±',
    definition:
      'Twice the standard uncertainty: in about 19 of 20 cases the true tension lies inside. Evenness uses only what differs from spoke to spoke, limits use all of it.',
  },
  sideRatio: {
    name: 'left to right',
    definition:
      'Mean tension of the left side over that of the right. The expected figure follows from the hub: both sides must pull the rim equally sideways.',
  },
  target: {
    name: 'target',
    definition: 'How far a spoke may stand from its side’s mean; ± 5 % is common practice for a good wheel.',
  },
  outlier: {
    name: 'stands out',
    definition:
      'Farther from its side’s median than the rest of the side makes likely, measured in robust standard deviations (1.4826 times the median absolute deviation).',
  },
};
