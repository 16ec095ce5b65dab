// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { PasteEntry } from '../../../src/ui/screens/evidence/PasteEntry.tsx';
import type { TensionUnit } from '../../../src/units.ts';

afterEach(cleanup);
const sides = Array.from({ length: 8 }, (_, i) => (i % 2 === 0 ? 'right' : 'left') as 'left' | 'right');
const paste = (unit: TensionUnit, lines: readonly string[]) => {
  const take = vi.fn();
  const gauge = { id: 'g', name: 'Gauge', scale: 'direct', unit, rounds: [] } as const;
  render(<PasteEntry gauge={gauge} order={[1, 2, 3, 4, 5, 6, 7, 8]} sides={sides} onTake={take} />);
  fireEvent.input(screen.getByLabelText('Readings'), { target: { value: lines.join('\n') } });
  return take;
};

describe('a pasted table', () => {
  it('with one reading in another unit is asked about by spoke, and taken over only on a yes', () => {
    const take = paste('N', ['1;1079', '3;112', '5;1098', '7;1059']);
    expect(document.body.textContent).toContain('Spoke 3 reads 112 where its side’s middle is 1069.');
    expect(take).not.toHaveBeenCalled();
    fireEvent.click(screen.getByText('Take these readings over'));
    expect(take).toHaveBeenCalledOnce();
  });
  it('with a figure that no spoke bears is not taken over at all', () => {
    paste('kgf', ['1;110', '3;1079', '5;112', '7;108']);
    expect(document.body.textContent).toContain(
      'The highest of these tensions is 1079 kgf, more than any spoke bears.',
    );
    expect(screen.getByText('Take these readings over')).toHaveProperty('disabled', true);
  });
  it('whose sides differ, as a dished wheel’s do, is not', () => {
    paste('kgf', ['1;110', '2;45', '3;109', '4;46', '5;112', '6;44', '7;108', '8;45']);
    expect(document.body.textContent).not.toContain('where its side’s middle');
  });
});
