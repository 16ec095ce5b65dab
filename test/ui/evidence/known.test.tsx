// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import type { Calibration, Wheel } from '../../../src/spokes/wheel.ts';
import Report from '../../../src/ui/screens/evidence/Report.tsx';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { simulatedRound } from '../../spokes/simulatedRound.ts';
import { showScreen } from './showScreen.tsx';

afterEach(cleanup);

const plain = plainWheel();
// Spoke 3 stands at 1030 N, on the right.
const OWN: Calibration = { id: 'own', kind: 'inWheel', spoke: 3, loadN: 1030, uLoadN: 10, method: 'load cell' };
const LOOSE: Calibration = {
  ...OWN,
  id: 'loose',
  kind: 'spare',
  method: 'hung weights',
  kindId: 'plain-2.0',
  supportLengthMm: 280,
};

async function report(calibrations: readonly Calibration[]): Promise<string> {
  const wheel: Wheel = { ...plain, rounds: [simulatedRound(plain)], calibrations };
  showScreen(wheel, Report);
  await screen.findByText(/^Member, left/);
  return document.body.textContent ?? '';
}
const rows = () =>
  [...document.querySelectorAll('[aria-label="Known tensions"] tbody tr')].map((row) =>
    [...row.children].map((cell) => cell.textContent),
  );

describe('known tensions in the report', () => {
  it('stand with load, interval, method, what was read and which side took them in; a refused one with the reason', async () => {
    const text = await report([OWN, LOOSE]);
    const [own, loose] = rows();
    expect(own?.slice(0, 3)).toEqual(['Spoke 3', '1030 ± 20', 'load cell']);
    expect(own?.[3]).toMatch(/^10[123]\d ± \d+$/);
    expect(own?.[4]).toMatch(/^Weighed in: right, .*\.$/);
    expect(loose?.[0]).toMatch(/^Loose: .*, 280 mm, in a clamp$/);
    expect(loose?.slice(3)).toEqual(['–', 'Not used. It was not heard under its load.']);
    expect(text).toMatch(/Taught, left: [^:]*by its tones alone: mass × /);
    expect(text).toMatch(/Taught, right: [^:]*by its tones and 1 known tension: mass × .*degrees of freedom \d+/);
    expect(text).not.toContain('contradict each other');
  });

  it('that cannot be right together with the description are called out in words', async () => {
    expect(await report([{ ...OWN, loadN: 1300 }])).toMatch(/Taught, right.*contradict each other.*believe neither/);
  });

  it('take no room where none was given', async () => {
    expect(await report([])).not.toContain('Known tensions');
  });
});
