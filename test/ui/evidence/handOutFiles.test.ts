import { describe, expect, it } from 'vitest';
import { readTable } from '../../../src/spokes/readTable.ts';
import { gaugeCsv } from '../../../src/ui/screens/evidence/gaugeCsv.ts';

describe('gauge readings handed out', () => {
  it('are a table that reads back, as read and as tension, spokes without a reading left out', () => {
    const csv = gaugeCsv(
      {
        id: 'g',
        name: 'Gauge',
        scale: 'direct',
        unit: 'kgf',
        uPercent: 4,
        rounds: [
          {
            id: 'a',
            at: '2026-01-01T00:00:00.000Z',
            state: { tyre: 'off' },
            readings: [{ spoke: 2, values: [100, 102] }],
          },
        ],
      },
      ['left', 'right'],
    );
    const table = readTable(csv);
    expect(table.problems).toEqual([]);
    expect(table.head?.cells).toEqual(['spoke', 'side', 'as read (kgf)', 'tensions (N)', 'mean (N)', 'u (N)']);
    // 1 kgf = 9.80665 N exactly (3rd CGPM, 1901).
    expect(table.rows.map((row) => row.cells)).toEqual([['2', 'right', '100 102', '980.7 1000.3', '990.5', '39.6']]);
  });
});
