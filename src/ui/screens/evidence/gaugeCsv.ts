import type { Gauge } from '../../../spokes/gauge.ts';
import { secondReadings } from '../../../spokes/secondReadings.ts';
import { toCsv } from '../../../spokes/toCsv.ts';
import type { Side } from '../../../spokes/wheel.ts';

/**
 * A gauge's readings as read, a column each, and their mean as tension in the state of the round: one line a spoke. Pasted or loaded among
 * gauge readings it gives the very same ones again.
 */
export function gaugeCsv(gauge: Gauge, sides: readonly Side[], beside?: Parameters<typeof secondReadings>[2]): string {
  const { readings } = secondReadings(gauge, sides, beside);
  const shown = sides.map((_, i) =>
    gauge.rounds.flatMap((round) => round.readings.flatMap(({ spoke, values }) => (spoke === i + 1 ? values : []))),
  );
  const columns = Array.from({ length: Math.max(...shown.map(({ length }) => length)) }, (_, i) => i);
  const unit = gauge.scale === 'direct' ? gauge.unit : 'marks';
  const head = ['spoke', 'side', ...columns.map((i) => `reading ${i + 1} (${unit})`), 'mean tension (N)', 'u (N)'];
  const rows = sides.flatMap((side, i) => {
    const values = shown[i] ?? [];
    const one = readings.get(i + 1);
    if (values.length === 0) return [];
    return [
      [
        i + 1,
        side,
        ...columns.map((column) => values[column]),
        one && Number(one.meanN.toFixed(1)),
        one && Number(one.uN.toFixed(1)),
      ],
    ];
  });
  return toCsv([head, ...rows]);
}
