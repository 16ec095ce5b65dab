import type { GaugeRound } from '../../spokes/gauge.ts';
import type { Pluck, Round } from '../../spokes/wheel.ts';

/** Whether every pluck of the other round is in the one; how they are judged, put aside or numbered does not matter. */
export function roundHolds(one: Round, other: Round): boolean {
  const there = new Set(one.plucks.map(heardAs));
  return other.plucks.every((pluck) => there.has(heardAs(pluck)));
}

const heardAs = ({ id, at, spoke, tones }: Pluck): string =>
  JSON.stringify([id, at, spoke, tones.map(({ frequencyHz }) => frequencyHz)]);

/** Whether every reading of the other round is in the one, repeats in the same order. */
export function gaugeRoundHolds(one: GaugeRound, other: GaugeRound): boolean {
  const there = new Map(one.readings.map(({ spoke, values }) => [spoke, values]));
  return other.readings.every(({ spoke, values }) =>
    values.every((value, repeat) => value === there.get(spoke)?.[repeat]),
  );
}
