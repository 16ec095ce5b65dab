import type { SecondReadings } from '../../../spokes/secondReadings.ts';

/** Readings that the chart of their side does not reach, each chart's range once: `spoke 2 (25.5), spoke 8 (26), where the chart covers 20–24`. */
export function outsideText(outside: SecondReadings['outside']): string {
  const charts = [...new Set(outside.map(({ chart }) => chart))];
  return charts
    .map((chart) => {
      const spokes = outside
        .filter((one) => one.chart === chart)
        .map(({ spoke, value }) => `spoke ${spoke} (${value})`);
      return `${spokes.join(', ')}, where the chart covers ${chart}`;
    })
    .join('; ');
}
