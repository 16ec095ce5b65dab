// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it } from 'vitest';
import type { Wheel } from '../../../src/spokes/wheel.ts';
import { readWheelFile } from '../../../src/spokes/wheelFile.ts';
import CheckSheet from '../../../src/ui/screens/evidence/CheckSheet.tsx';
import Compare from '../../../src/ui/screens/evidence/Compare.tsx';
import Report from '../../../src/ui/screens/evidence/Report.tsx';
import { createApp } from '../../../src/ui/store/createApp.ts';
import { demoWheel } from '../../../src/ui/store/demoWheels.ts';
import { AppContext } from '../../../src/ui/store/useStore.ts';
import { EMPTY_SHELF, simulatedPorts } from '../store/simulatedPorts.ts';
import { showScreen } from './showScreen.tsx';

afterEach(cleanup);

/** Four spokes a side of which only the sides are known, each with one typed tone. */
const evenness = (): Wheel => {
  const sides = Array.from({ length: 8 }, (_, i) => (i % 2 === 0 ? 'left' : 'right'));
  const read = readWheelFile({
    format: 'ringtrue-wheel',
    version: 1,
    wheel: {
      id: 'even',
      layout: { kind: 'evenness', sides },
      rounds: [
        {
          id: 'r',
          plucksToSettle: 1,
          plucks: sides.map((_, i) => ({ spoke: i + 1, tones: [{ frequencyHz: (i % 2 === 0 ? 400 : 550) + i }] })),
        },
      ],
    },
  });
  if (!read.ok) throw new Error('wheel');
  return read.wheel;
};

const words = () => document.body.textContent ?? '';

describe('a wheel of which only the sides are known', () => {
  it('has a report without a single tension, and it says so', async () => {
    showScreen(evenness(), Report);
    await screen.findByText(/no tension is computed or implied/);
    expect(document.querySelectorAll('.spoke-rows tbody tr')).toHaveLength(8);
    const table = document.querySelector('.spoke-rows')?.textContent ?? '';
    expect(table).not.toMatch(/ N\b|kgf|lbf/);
    expect(words()).not.toContain('Uncertainty budget');
    expect(words()).not.toContain('calculator');
    expect(words()).toMatch(/; 8 spokes, 0 passed over; 8 plucks taken/);
    expect(words()).not.toMatch(/refused|figures in N|finds these tensions/);
  });
  it('is laid beside an earlier round without a word of tensions that nobody knows', async () => {
    const wheel = evenness();
    const [round] = wheel.rounds;
    if (!round) throw new Error('no round');
    const rounds = ['2026-01-01', '2026-01-02'].map((day) => ({
      ...round,
      id: day,
      startedAt: `${day}T08:00:00.000Z`,
    }));
    showScreen({ ...wheel, rounds }, Report);
    fireEvent.change(await screen.findByLabelText('Before and after, against'), { target: { value: '2026-01-01' } });
    await screen.findByText(/no change in tension can be told/);
    expect(words()).not.toContain('No spoke changed');
  });
  it('is not laid beside a round of another state: the report says why, and draws nothing', async () => {
    const wheel = evenness();
    const [round] = wheel.rounds;
    if (!round) throw new Error('no round');
    const [earlier, later] = [
      {
        ...round,
        id: 'earlier',
        startedAt: '2026-01-01T08:00:00.000Z',
        state: { tyre: 'on', pressureBar: 6 } as const,
      },
      { ...round, id: 'later', startedAt: '2026-01-02T08:00:00.000Z', state: { tyre: 'off' } as const },
    ];
    showScreen({ ...wheel, rounds: [earlier, later] }, Report);
    fireEvent.change(await screen.findByLabelText('Before and after, against'), { target: { value: 'earlier' } });
    await screen.findByText(/^Before, the wheel stood otherwise \(tyre on, 6 bar/);
    expect(words()).toContain('cannot be compared in tension');
    expect(words()).not.toContain('Rings:');
  });
  it('cannot be compared with a gauge, and Compare says what is missing', () => {
    showScreen(evenness(), Compare);
    expect(words()).toContain('the ear gives no tension that a gauge could be compared with');
  });
});

describe('before anything was heard', () => {
  it.each([
    ['report', Report, 'nothing to report'],
    ['comparison', Compare, 'needs a round by ear first'],
  ] as const)('the %s says so and leads to listening', (_, Screen, sentence) => {
    showScreen(demoWheel('steelRear').wheel, Screen);
    expect(words()).toContain(sentence);
    expect(screen.getByText('Listen').getAttribute('href')).toContain('/listen');
  });
});

describe('an empty sheet', () => {
  it('is not blamed for anything', () => {
    const app = createApp(simulatedPorts().ports, EMPTY_SHELF);
    render(
      <AppContext.Provider value={app}>
        <CheckSheet />
      </AppContext.Provider>,
    );
    expect(words()).toContain('Put in a table');
    expect(words()).not.toContain('does not add up.');
  });
});
