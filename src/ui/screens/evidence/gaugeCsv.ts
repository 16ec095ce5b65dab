import type { Gauge } from '../../../spokes/gauge.ts';
import { secondReadings } from '../../../spokes/secondReadings.ts';
import { toCsv } from '../../../spokes/toCsv.ts';
import type { Side } from '../../../spokes/wheel.ts';

/** A gauge's readings as read and as tensions in the state of the round, one line a spoke. */
export function gaugeCsv(gauge: Gauge, sides: readonly Side[], beside?: Parameters<typeof secondReadings>[2]): string {
  const { readings } = secondReadings(gauge, sides, beside);
  const raw = (spoke: number) =>
    gauge.rounds.flatMap((round) => round.readings.filter((one) => one.spoke === spoke).flatMap((one) => one.values));
  const head = [
    'spoke',
    'side',
    `as read (${gauge.scale === 'direct' ? gauge.unit : 'marks'})`,
    'tensions (N)',
    'mean (N)',
    'u (N)',
  ];
  const rows = sides.flatMap((side, i) => {
    const values = raw(i + 1);
    const one = readings.get(i + 1);
    if (values.length === 0) return [];
    return [
      [
        i + 1,
        side,
        values.join(' '),
        one?.valuesN.map((value) => value.toFixed(1)).join(' '),
        one && Number(one.meanN.toFixed(1)),
        one && Number(one.uN.toFixed(1)),
      ],
    ];
  });
  return toCsv([head, ...rows]);
}
