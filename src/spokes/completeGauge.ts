import { completeState, NO_TIME } from './completePluck.ts';
import { fingerprint } from './fingerprint.ts';
import type { Gauge } from './gauge.ts';
import type { GaugeChart } from './gaugeChart.ts';
import { type NewId, ownIds } from './ownIds.ts';
import type { WheelState } from './wheel.ts';
import type { GaugeInput } from './wheelFileSchema.ts';

/**
 * Fills in what a file leaves out of a gauge, in the file's canonical order of fields.
 *
 * @param newIds takes note of each round that got a new id
 */
export function completeGauge(input: GaugeInput, index: number, wheelState: WheelState, newIds: NewId[]): Gauge {
  const id = input.id ?? `gauge-${index + 1}`;
  const chart = (one: NonNullable<NonNullable<GaugeInput['charts']>['left']>): GaugeChart => ({
    section: one.section ?? '',
    unit: one.unit ?? 'kgf',
    points: one.points,
  });
  return {
    id,
    name: input.name ?? 'Gauge',
    scale: input.scale ?? (input.charts ? 'chart' : 'direct'),
    unit: input.unit ?? 'N',
    ...(input.charts
      ? {
          charts: {
            ...(input.charts.left ? { left: chart(input.charts.left) } : {}),
            ...(input.charts.right ? { right: chart(input.charts.right) } : {}),
          },
        }
      : {}),
    ...(input.uPercent === undefined ? {} : { uPercent: input.uPercent }),
    ...(input.calibrated === undefined ? {} : { calibrated: input.calibrated }),
    rounds: ownIds(
      (input.rounds ?? []).map((round) => ({
        id: round.id ?? `${id}-round-${fingerprint(JSON.stringify(round))}`,
        at: round.at ?? NO_TIME,
        ...(round.person === undefined ? {} : { person: round.person }),
        state: round.state === undefined ? wheelState : completeState(round.state),
        readings: round.readings,
      })),
      'gaugeRound',
      newIds,
    ),
  };
}
