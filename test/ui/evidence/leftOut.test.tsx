// @vitest-environment happy-dom
import { cleanup, render } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import { judgeLeftOut } from '../../../src/spokes/judgeLeftOut.ts';
import { LeftOut } from '../../../src/ui/screens/evidence/LeftOut.tsx';

afterEach(cleanup);

/** Sixteen differences of one size, each with a standard uncertainty of 10 N. */
const said = (differenceN: number): string => {
  const differences = Array.from({ length: 16 }, (_, i) => ({ spoke: i + 1, differenceN, uN: 10 }));
  const { container } = render(<LeftOut leftOut={judgeLeftOut(differences, true)} how="Left out" unit="N" />);
  return container.textContent ?? '';
};

describe('a scatter of spokes left out', () => {
  it('is no more than both methods say, within chance of that, or more, and each is said in its own words', () => {
    expect(said(9)).toContain('That is no more than they say of themselves.');
    // A standard deviation of 16 is known to s/√32, 18 %: JCGM 100:2008, E.4.3.
    expect(said(12)).toContain('It differs from that by no more than chance makes of so few spokes.');
    expect(said(12)).not.toContain('no more than they say');
    expect(said(17)).toContain('That is more than both say of themselves');
  });
});
