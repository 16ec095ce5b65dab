import type { GaugeRound } from '../../spokes/gauge.ts';
import type { Calibration, Pluck, Round } from '../../spokes/wheel.ts';

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

/** Whether the one is the same known tension, with every pluck of the other. */
export function calibrationHolds(one: Calibration, other: Calibration): boolean {
  const { id: _, pluck: __, morePlucks: ___, ...stated } = other;
  const fields = Object.keys(stated) as (keyof typeof stated)[];
  const there = new Set(plucksOf(one).map(heardAs));
  return (
    fields.every((field) => one[field] === stated[field]) && plucksOf(other).every((pluck) => there.has(heardAs(pluck)))
  );
}

const plucksOf = ({ pluck, morePlucks = [] }: Calibration): readonly Pluck[] =>
  pluck === undefined ? morePlucks : [pluck, ...morePlucks];
