// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Wheel } from '../../../src/spokes/wheel.ts';
import { tellChanges } from '../../../src/ui/edge/tellChanges.ts';
import { getAt, setAt } from '../../../src/ui/screens/describe/atPath.ts';
import { RIM_DIAMETER, RIM_OFFSET } from '../../../src/ui/screens/describe/fields.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { appOnScreen, type OnScreen, tap, type, unfold } from './appOnScreen.tsx';

vi.setConfig({ testTimeout: 30_000 });
afterEach(cleanup);

const mm = (wheel: Wheel, { path }: { readonly path: string }) => getAt(wheel, path);
/** Another tab saves the wheel with these figures in it. */
async function saveElsewhere({ app, wheel }: OnScreen, figures: Readonly<Record<string, unknown>>): Promise<void> {
  const before = app.store.getState().wheels.list;
  const changed = Object.entries(figures).reduce<Wheel>((one, [path, value]) => setAt(one, path, value), wheel());
  const changes = tellChanges(app.store, app.tell);
  app.adoptWheels([changed]);
  await changes.adopted(before, [changed]);
}

describe('a wheel that is described in two tabs', () => {
  it('takes figures of both; what was typed in neither is not put back to what it was', async () => {
    const on = appOnScreen(plainWheel(), '#/wheel/plain/describe');
    await unfold(/Hub and rim/);
    await type('Effective rim diameter', '601');
    await saveElsewhere(on, { [RIM_OFFSET.path]: 2.5 });
    await screen.findByDisplayValue('2.5');
    await tap('Save');
    expect([mm(on.wheel(), RIM_DIAMETER), mm(on.wheel(), RIM_OFFSET)]).toEqual([601, 2.5]);
  });

  it('says which figure the other tab changed, and what stood before', async () => {
    const on = appOnScreen(plainWheel(), '#/wheel/plain/describe');
    await unfold(/Hub and rim/);
    const before = mm(on.wheel(), RIM_DIAMETER);
    await saveElsewhere(on, { [RIM_DIAMETER.path]: 598 });
    await screen.findByText(new RegExp(`Effective rim diameter: ${before}\\smm, now 598\\smm`));
    await screen.findByDisplayValue('598');
  });

  it('shows both where both changed one figure: the typed one in the field, the saved one under it', async () => {
    const on = appOnScreen(plainWheel(), '#/wheel/plain/describe');
    await unfold(/Hub and rim/);
    await type('Effective rim diameter', '601');
    await saveElsewhere(on, { [RIM_DIAMETER.path]: 598 });
    await screen.findByText(/Saved in another tab meanwhile: 598\smm/);
    await screen.findByDisplayValue('601');
    await tap('Save');
    expect(mm(on.wheel(), RIM_DIAMETER)).toBe(601);
    await waitFor(() => expect(screen.queryByText(/Saved in another tab meanwhile/)).toBeNull());
  });

  it('keeps what was read with a gauge while the description lay open with something typed', async () => {
    const on = appOnScreen(plainWheel(), '#/wheel/plain/describe');
    await type('Name', 'Renamed');
    const gauge = { id: 'g', name: 'Gauge', scale: 'direct', unit: 'N', rounds: [] } as const;
    on.app.adoptWheels([{ ...on.wheel(), gauges: [gauge] }]);
    await tap('Save');
    expect(on.wheel()).toMatchObject({ name: 'Renamed', gauges: [{ id: 'g' }] });
  });

  it('of which both changed a figure before either knew: says so, with what the other had', async () => {
    const on = appOnScreen(plainWheel(), '#/wheel/plain/describe');
    const known = on.wheel();
    await screen.findByLabelText('Name');
    const theirs = setAt(known, RIM_DIAMETER.path, 598);
    const both = setAt(known, RIM_DIAMETER.path, 601);
    await tellChanges(on.app.store, on.app.tell).met([known], [theirs], [both]);
    await screen.findByText(/What was changed here stands – Effective rim diameter: 601\smm here, 598\smm there/);
  });
});
