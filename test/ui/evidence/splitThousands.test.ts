import { describe, expect, it } from 'vitest';
import { splitThousands } from '../../../src/ui/screens/evidence/splitThousands.ts';

describe('a table of tensions far below any wheel’s', () => {
  it('is called out with its highest figure, whatever the unit; a slack wheel is not', () => {
    expect(splitThousands([1.05, 1.2], 'N')).toMatch(/highest of these tensions is 1\.2 N.*write them without/);
    expect(splitThousands([1.05, 1.2], 'kgf')).toContain('1.2 kgf');
    expect(splitThousands([0, 60], 'N')).toBeUndefined();
    expect(splitThousands([10, 12], 'kgf')).toBeUndefined();
    expect(splitThousands([], 'N')).toBeUndefined();
  });
});
