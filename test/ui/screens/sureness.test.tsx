// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { describeMember } from '../../../src/spokes/describeMember.ts';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { appOnScreen, tap, type, unfold } from './appOnScreen.tsx';

vi.setConfig({ testTimeout: 30_000 });
afterEach(cleanup);

describe('how sure the figures are', () => {
  it('is told as it is used, can be stated, and goes into the description', async () => {
    const on = appOnScreen(plainWheel(), '#/wheel/plain/describe');
    await unfold(/How sure the figures are/);
    expect((await screen.findAllByText(/Used now: 1\.5 mm/)).length).toBeGreaterThan(0);
    const borders = 'Where its sections meet ±, left';
    await type(borders, '0,4');
    await screen.findByText(/Used now: 0\.4 mm/);
    await tap('Save');
    expect(on.wheel().sides?.left.uncertainty).toEqual({ sectionsMm: 0.4 });
    const sections = on.wheel().layout.kind === 'laced' ? [1, 2, 3, 4] : [];
    const told = sections.map((spoke) => {
      const member = describeMember(on.wheel(), spoke);
      return member.ok ? Number(member.described.uncertainty.sections) : Number.NaN;
    });
    expect(new Set(told)).toEqual(new Set([4e-4, 1.5e-3]));
  });

  it('refuses what no ruler is that wrong by', async () => {
    appOnScreen(plainWheel(), '#/wheel/plain/describe');
    await unfold(/How sure the figures are/);
    await type('Mass per length ±, right', '50');
    await screen.findByText(/50 is too large; right would be 0 to 20 %/);
  });
});
