// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { catalogueKind } from '../../../src/spokes/catalogue.ts';
import type { Round, Wheel } from '../../../src/spokes/wheel.ts';
import { howRoundText } from '../../../src/ui/text/howText.ts';
import { hertz } from '../../../src/units.ts';
import { laced } from '../../spokes/laced.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { appOnScreen, tap } from './appOnScreen.tsx';

vi.setConfig({ testTimeout: 30_000 });
afterEach(cleanup);

const ADDRESS = '#/wheel/plain/listen';
const SLOW = { timeout: 10_000 };
const blades = (crosses: readonly [number, number]): Wheel =>
  plainWheel(
    { layout: laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses, hole: 2.6 }) },
    {},
    catalogueKind('2.0-blade-2.2x0.9'),
  );
const ALONG = { crossing: 'held', direction: 'inPlane' } as const;
const ACROSS = { crossing: 'none', direction: 'across' } as const;

describe('which way to pluck, on the screen', () => {
  it('uncrossed blades: across, in words, with the reason, and so recorded', async () => {
    const on = appOnScreen(blades([0, 0]), ADDRESS);
    await screen.findByText(/Pluck across the wheel, in the middle of the spoke/, {}, SLOW);
    expect(screen.getByText(/A blade bends more easily across the wheel/)).toBeDefined();
    expect(screen.queryByText(/Hold the crossing/)).toBeNull();
    await tap('Start listening');
    await waitFor(() => expect(on.app.store.getState().round?.how).toEqual(ACROSS));
    on.app.actions.typeTones(1, [hertz(420)]);
    expect(on.wheel().rounds[0]?.plucks[0]?.how).toEqual(ACROSS);
    expect(on.wheel().rounds[0]?.how).toEqual(ACROSS);
  });

  it('crossed spokes: along the rim, with the crossing held', async () => {
    appOnScreen(plainWheel(), ADDRESS);
    await screen.findByText(/Hold the crossing firmly.*pluck along the rim/, {}, SLOW);
    expect(screen.queryByText(/across the wheel/)).toBeNull();
  });

  it('one side crossed, the other not: each in its own way, reminded place by place, told to the ear and recorded', async () => {
    const on = appOnScreen(blades([0, 2]), ADDRESS);
    await screen.findByText('Right side:', {}, SLOW);
    expect(screen.getByText('Left side:')).toBeDefined();
    await tap('Start listening');
    await screen.findByText(/1st after the valve hole; hold the crossing, pluck along the rim/);
    await waitFor(() => expect(on.expectations.length).toBeGreaterThan(0));
    on.app.actions.jumpTo(2);
    await screen.findByText(/2nd after the valve hole; pull towards you/);
    for (const spoke of [1, 2]) for (const _ of [1, 2]) on.app.actions.typeTones(spoke, [hertz(420)]);
    const plucks = on.wheel().rounds[0]?.plucks ?? [];
    expect(plucks.map((pluck) => pluck.how)).toEqual([ALONG, ALONG, ACROSS, ACROSS]);
  });
});

describe('the statement of method', () => {
  const round = (...hows: Round['how'][]): Round =>
    ({ how: ALONG, plucks: hows.map((how, i) => ({ spoke: i + 1, how })) }) as unknown as Round;
  const sides = ['left', 'right', 'left', 'right'] as const;

  it('says once what holds for the whole wheel', () =>
    expect(howRoundText(round(ALONG, ALONG), sides)).toBe(
      'crossing held between finger and thumb, plucked along the rim',
    ));
  it('says side by side what differs', () =>
    expect(howRoundText(round(ACROSS, ALONG, ACROSS), sides)).toBe(
      'left: no crossing touches, plucked across the wheel; right: crossing held between finger and thumb, plucked along the rim',
    ));
  it('says what the round was begun with where no pluck was taken', () =>
    expect(howRoundText(round(), sides)).toContain('plucked along the rim'));
});
