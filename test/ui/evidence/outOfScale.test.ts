import { describe, expect, it } from 'vitest';
import { gaugeReadings } from '../../../src/spokes/gaugeReadings.ts';
import { outOfScale } from '../../../src/ui/screens/evidence/outOfScale.ts';

describe('a table of tensions far from any wheel’s', () => {
  it('is called out with its highest figure, whatever the unit; a slack wheel is not', () => {
    expect(outOfScale([1.05, 1.2], 'N')).toMatch(/highest of these tensions is 1\.2 N.*write them without/);
    expect(outOfScale([1.05, 1.2], 'kgf')).toContain('1.2 kgf');
    expect(outOfScale([0, 60], 'N')).toBeUndefined();
    expect(outOfScale([10, 12], 'kgf')).toBeUndefined();
    expect(outOfScale([], 'N')).toBeUndefined();
  });

  it('is told of a figure beyond any spoke’s strength, as two repeats run together make it', () => {
    // π/4 · 2.3² mm² · 1200 N/mm² = 4986 N breaks the strongest common wire.
    const [run] = gaugeReadings('1;100 102\n2;101 103', 32).readings;
    expect(run?.values).toEqual([100_102]);
    expect(outOfScale(run?.values ?? [], 'kgf')).toMatch(/more than any spoke bears.*divide them by semicolons/);
    expect(outOfScale([1050, 4900], 'N')).toBeUndefined();
  });
});
