// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Gauge } from '../../../src/spokes/gauge.ts';
import { U_GAUGE_UNSTATED } from '../../../src/spokes/secondReadings.ts';
import type { Calibration, Wheel } from '../../../src/spokes/wheel.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { SIMULATED, simulatedRound } from '../../spokes/simulatedRound.ts';
import { handPluck, handRefusal } from '../store/handPluck.ts';
import { appOnScreen, choose, type OnScreen, tap, type, unfold } from './appOnScreen.tsx';

vi.setConfig({ testTimeout: 30_000 });
afterEach(cleanup);

const ADDRESS = '#/wheel/plain/describe';
const heardWheel = (calibrations: readonly Calibration[] = []): Wheel => {
  const wheel = plainWheel({ calibrations });
  return { ...wheel, rounds: [simulatedRound(wheel)] };
};
const calibrate = async (wheel: Wheel): Promise<OnScreen> => {
  const on = appOnScreen(wheel, ADDRESS);
  await unfold(/^Known tensions/);
  return on;
};
const addButton = (name: string) => screen.getByRole<HTMLButtonElement>('button', { name });
/** Lowest four tones of some uncrossed spoke. */
const TONES = '320 648,5 990 1350';

describe('a spare spoke under a known load', () => {
  it('is kept with its length, load, ± and typed tones, in the unit that was chosen', async () => {
    const on = await calibrate(heardWheel());
    await choose('a spare one');
    await screen.findByText(/Weights that hang on a spoke fall/);
    await choose('in its nipple');
    await type('Length between the supports', '280,5');
    await choose('kgf');
    await type('Its tension', '100');
    await choose('typed');
    expect(addButton('Add this spoke').disabled).toBe(true);
    await type('Its tones, in hertz', TONES);
    await tap('Add this spoke');
    const [one] = on.wheel().calibrations;
    expect(one).toMatchObject({
      kind: 'spare',
      kindId: 'plain-2.0',
      supportLengthMm: 280.5,
      uSupportLengthMm: 0.5,
      threadEnd: 'nipple',
      method: 'load cell',
    });
    expect(one?.loadN).toBeCloseTo(980.665, 6);
    expect(one?.uLoadN).toBeCloseTo(980.665 / 200, 6);
    expect(one?.pluck?.tones.map((tone) => tone.frequencyHz)).toEqual([320, 648.5, 990, 1350]);
    expect(one?.pluck?.how).toEqual({ crossing: 'none', direction: 'inPlane' });
  });

  it('is heard through the same ear, told what it would ring like, and credited to no spoke of the wheel', async () => {
    const on = await calibrate(heardWheel());
    await choose('a spare one');
    expect(addButton('Hear the spoke').disabled).toBe(true);
    await type('Length between the supports', '280');
    await type('Its tension', '600');
    await tap('Hear the spoke');
    await screen.findByText('Pluck it twice.');
    await waitFor(() => expect(on.expectations).toHaveLength(1));
    expect(on.expectations[0]).toHaveLength(41);
    on.ear()?.onEar(handRefusal('tooSoft'));
    await screen.findByText(/Not taken. Too soft/);
    on.ear()?.onEar(handPluck([320, 648, 990]));
    await screen.findByText(/One pluck taken/);
    expect(addButton('Add this spoke').disabled).toBe(true);
    on.ear()?.onEar(handPluck([320.1, 648.2, 990.2]));
    await screen.findByText(/2 plucks agree; lowest tone 320.0 Hz/);
    expect(on.simulated.signals).toEqual(['refused', 'taken', 'settled']);
    const before = on.wheel().rounds;
    await tap('Add this spoke');
    const [one] = on.wheel().calibrations;
    expect(one?.pluck?.tones).toHaveLength(3);
    expect(one?.morePlucks).toHaveLength(1);
    expect(on.wheel().rounds).toEqual(before);
    expect(on.app.store.getState().listening.status).toBe('off');
    expect(on.app.store.getState().spare).toBeUndefined();
  });

  it('with a length that its sections cannot have is refused at the field', async () => {
    await calibrate(heardWheel());
    await choose('a spare one');
    await type('Length between the supports', '4');
    await screen.findByText(/4 is too small; right would be 50 to 450 mm/);
    expect(addButton('Hear the spoke').disabled).toBe(true);
  });
});

describe('a spoke of known tension in the wheel', () => {
  it('belongs to the round that heard it, and what the wheel learned of it is shown', async () => {
    const on = await calibrate(heardWheel());
    await type('Spoke', '3');
    await type('Its tension', `${SIMULATED.truth[2]}`);
    await tap('Add this tension');
    expect(on.wheel().calibrations).toMatchObject([{ kind: 'inWheel', spoke: 3, roundId: 'r', method: 'gauge' }]);
    await screen.findByText(/1 given/);
    await screen.findByText(/What the wheel taught/);
    expect(screen.getAllByText(/degrees of freedom/).length).toBeGreaterThan(0);
    expect(screen.queryByText(/contradict each other/)).toBeNull();
  });

  it('is as sure as the same gauge is in a comparison, stated or not', async () => {
    const unstated = await calibrate(heardWheel());
    await screen.findByText(/10 % is what a gauge is taken for whose uncertainty nobody states/);
    await type('Spoke', '3');
    await type('Its tension', '1000');
    await tap('Add this tension');
    expect(unstated.wheel().calibrations[0]?.uLoadN).toBeCloseTo(1000 * U_GAUGE_UNSTATED, 9);
    cleanup();
    const gauge: Gauge = { id: 'g', name: 'bench gauge', scale: 'direct', unit: 'N', uPercent: 2, rounds: [] };
    const stated = await calibrate({ ...heardWheel(), gauges: [gauge] });
    await screen.findByText(/4 % is what is stated of bench gauge/);
    await type('Spoke', '3');
    await type('Its tension', '1000');
    await tap('Add this tension');
    expect(stated.wheel().calibrations).toMatchObject([{ uLoadN: 20, method: 'bench gauge' }]);
  });

  it('is refused for a spoke that the round did not hear', async () => {
    const wheel = heardWheel();
    const [round] = wheel.rounds;
    if (round === undefined) throw new RangeError('no round');
    const deaf = { ...round, plucks: round.plucks.filter((pluck) => pluck.spoke !== 7) };
    await calibrate({ ...wheel, rounds: [deaf] });
    await type('Spoke', '7');
    await type('Its tension', '900');
    await screen.findByText(/Spoke 7 was not heard in the round of 2026-01-01 00:00; choose one that was/);
    expect(addButton('Add this tension').disabled).toBe(true);
  });

  it('that contradicts the description is said in plain words, here and with the verdict', async () => {
    const wrong: Calibration = { id: 'c', kind: 'inWheel', spoke: 3, loadN: 1500, uLoadN: 15, method: 'gauge' };
    await calibrate(heardWheel([wrong]));
    await screen.findByText(/Right side: a known tension and the description contradict each other/);
    location.hash = '#/wheel/plain/judge';
    await screen.findByText(/Until they agree, believe neither/);
  });
});
