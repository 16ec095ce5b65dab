import { describe, expect, it } from 'vitest';
import type { Gauge } from '../../../src/spokes/gauge.ts';
import { gaugeReadings } from '../../../src/spokes/gaugeReadings.ts';
import { readTable } from '../../../src/spokes/readTable.ts';
import { gaugeCsv } from '../../../src/ui/screens/evidence/gaugeCsv.ts';

const round = (id: string, ...readings: Gauge['rounds'][number]['readings']): Gauge['rounds'][number] => ({
  id,
  at: '2026-01-01T00:00:00.000Z',
  state: { tyre: 'off' },
  readings,
});
const gauge = (scale: Gauge['scale'], ...rounds: Gauge['rounds']): Gauge => ({
  id: 'g',
  name: 'Gauge',
  scale,
  unit: 'kgf',
  uPercent: 4,
  rounds,
});

describe('gauge readings handed out', () => {
  it('are a table, a column a reading, spokes without a reading left out', () => {
    const csv = gaugeCsv(gauge('direct', round('a', { spoke: 2, values: [100, 102] })), ['left', 'right']);
    const table = readTable(csv);
    expect(table.problems).toEqual([]);
    expect(table.head?.cells).toEqual([
      'spoke',
      'side',
      'reading 1 (kgf)',
      'reading 2 (kgf)',
      'mean tension (N)',
      'u (N)',
    ]);
    // 1 kgf = 9.80665 N exactly (3rd CGPM, 1901).
    expect(table.rows.map((row) => row.cells)).toEqual([['2', 'right', '100', '102', '990.5', '39.6']]);
  });

  it.each(['direct', 'chart'] as const)('are the very same readings when they are pasted again: %s', (scale) => {
    const readings = [
      { spoke: 1, values: [99.5, 101] },
      { spoke: 2, values: [102] },
      { spoke: 4, values: [100.25] },
    ];
    const again = round('b', { spoke: 1, values: [100.5] });
    const csv = gaugeCsv(gauge(scale, round('a', ...readings), again), ['left', 'right', 'left', 'right']);
    const read = gaugeReadings(csv, 4, undefined, ['left', 'right', 'left', 'right']);
    expect(read).toMatchObject({ ok: true, numbered: true, missing: [3], unread: ['mean tension (N)', 'u (N)'] });
    expect(read.unit).toBe(scale === 'direct' ? 'kgf' : undefined);
    expect(read.readings.map(({ spoke, values }) => ({ spoke, values }))).toEqual([
      { spoke: 1, values: [99.5, 101, 100.5] },
      ...readings.slice(1),
    ]);
  });

  it('of a gauge that has read nothing yet are a head alone', () => {
    expect(gaugeCsv(gauge('direct'), ['left'])).toBe('spoke,side,mean tension (N),u (N)\r\n');
  });
});
