// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { describeMember } from '../../../src/spokes/describeMember.ts';
import type { ListedLayout, Wheel } from '../../../src/spokes/wheel.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { simulatedRound } from '../../spokes/simulatedRound.ts';
import { appOnScreen, choose, tap, type, unfold } from './appOnScreen.tsx';

vi.setConfig({ testTimeout: 30_000 });
afterEach(cleanup);

const ADDRESS = '#/wheel/plain/describe';
const spoke = (side: 'left' | 'right', partner: number) =>
  ({ side, supportLengthMm: 280, crossingFromHubMm: 80, crossingPartner: partner }) as const;
const LISTED: ListedLayout = {
  kind: 'list',
  spokes: [spoke('left', 3), spoke('right', 4), spoke('left', 1), spoke('right', 2)],
};
const listed = (): Wheel => plainWheel({ layout: LISTED });
const layoutOf = (wheel: Wheel): ListedLayout => {
  if (wheel.layout.kind !== 'list') throw new RangeError(`layout ${wheel.layout.kind}, expected list`);
  return wheel.layout;
};

describe('a wheel listed spoke by spoke', () => {
  it('takes another spoke and is saved with it; those behind it keep their partners', async () => {
    const on = appOnScreen(listed(), ADDRESS);
    await unfold(/^1/);
    await tap('Add a spoke after 1');
    await type('Hub support to nipple seat', '275');
    await choose('right');
    await tap('Save');
    const { spokes } = layoutOf(on.wheel());
    expect(spokes.map((one) => one.crossingPartner)).toEqual([4, undefined, 5, 1, 3]);
    expect(spokes[1]).toEqual({ side: 'right', supportLengthMm: 275 });
  });

  it('lets one go, and the one that touched it touches none', async () => {
    const on = appOnScreen(
      { ...listed(), layout: { ...LISTED, spokes: [...LISTED.spokes, { side: 'left', supportLengthMm: 270 }] } },
      ADDRESS,
    );
    await unfold(/^2/);
    await tap('Take spoke 2 out');
    await tap('Save');
    expect(layoutOf(on.wheel()).spokes.map((one) => one.crossingPartner)).toEqual([2, 1, undefined, undefined]);
  });

  it('says what to do where too few are left, where a partner does not exist, and where touching is not mutual', async () => {
    appOnScreen(listed(), ADDRESS);
    await unfold(/^4/);
    await tap('Take spoke 4 out');
    await screen.findAllByText(/A wheel has 4–144 spokes: add or take out spokes until it does/);
    await tap('Add a spoke at the end');
    await type('Hub support to crossing', '80');
    await type('It touches spoke', '9');
    await screen.findAllByText(/There is no spoke 9 to touch: enter the number of another spoke/);
    await type('It touches spoke', '1');
    await screen.findAllByText(/Touching is mutual .*: give both spokes each other’s number/);
  });

  it('warns where rounds were heard already: their places would be other ones', async () => {
    const laced = plainWheel();
    appOnScreen({ ...listed(), rounds: [simulatedRound(laced)] }, ADDRESS);
    await screen.findByText(/Rounds that were heard keep their numbers/, {}, { timeout: 10_000 });
  });

  it('can be made of any laced wheel, with the same spokes and no more certainty than before', async () => {
    const laced = plainWheel();
    const on = appOnScreen(laced, ADDRESS);
    await tap('List its spokes one by one');
    await screen.findByText(/listed spoke by spoke/);
    await tap('Save');
    const before = describeMember(laced, 3);
    const after = describeMember(on.wheel(), 3);
    if (!before.ok || !after.ok) throw new RangeError('not described');
    expect(after.lengths.support).toBeCloseTo(before.lengths.support, 4);
    expect(after.described.uncertainty).toEqual(before.described.uncertainty);
  });
});

describe('limits that contradict each other', () => {
  it('are refused in the form with what to do, and the wheel is not saved so', async () => {
    appOnScreen(plainWheel(), ADDRESS);
    await unfold(/^Limits and target/);
    await type('Maximum, left', '1000');
    await type('Minimum, left', '1200');
    await screen.findByText('The minimum lies above the maximum: correct one of the two.');
    expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Save' }).disabled).toBe(true);
  });
});
