// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { PadEntry } from '../../../src/ui/screens/evidence/PadEntry.tsx';

afterEach(cleanup);

const typed = (unit: string, raw: string) => {
  const change = vi.fn();
  const { container } = render(
    <PadEntry order={[1, 2]} sides={['right', 'left']} unit={unit} readings={[]} onChange={change} />,
  );
  fireEvent.input(screen.getByLabelText('Reading'), { target: { value: raw } });
  const form = container.querySelector('form');
  if (form) fireEvent.submit(form);
  return change;
};

describe('a reading on the pad', () => {
  it.each(['1,050', '1.050'])('“%s” in newtons may be a thousand: asked about, not kept', (raw) => {
    const change = typed('N', raw);
    expect(change).not.toHaveBeenCalled();
    // It stays where it is, with what to do.
    expect(screen.getByLabelText('Reading')).toHaveProperty('value', raw);
    expect(document.body.textContent).toContain('write thousands without a sign');
    expect(document.body.textContent).toContain('Spoke 1, right');
  });
  it('to a thousandth of a mark is what it says', () => {
    expect(typed('marks', '2,350')).toHaveBeenCalledWith([{ spoke: 1, values: [2.35] }]);
  });
  it('with both signs has the last one for its decimals', () => {
    expect(typed('N', '1,050.5')).toHaveBeenCalledWith([{ spoke: 1, values: [1050.5] }]);
  });
});
