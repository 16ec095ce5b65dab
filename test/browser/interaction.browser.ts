import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';
import { describeTestWheel, SPOKE_COUNT, testSpokes } from './testWheel.ts';
import { writeRound } from './writeRound.ts';

/** From the tap to the next frame, on a phone four times slower than this machine's main thread. */
const LATENCY_MS = 100;
const THROTTLE = 4;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

declare global {
  var interactions: number[] | undefined;
}

/** Everything that is tapped while a round is heard; every second tap of a kind undoes the one before. */
const CONTROLS: readonly (readonly [name: string, tap: (page: Page) => Promise<void>])[] = [
  ['Skip', (page) => tapButton(page, 'Skip')],
  ['Back', (page) => tapButton(page, 'Back')],
  ['Repeat', (page) => tapButton(page, 'Repeat')],
  ['More', (page) => tapButton(page, 'More')],
  ['More', (page) => tapButton(page, 'More')],
  ['wheel', (page) => page.locator('.wheel-view').click({ position: { x: 171, y: 150 } })],
  ['Pause', (page) => tapButton(page, 'Pause')],
  ['Go on', (page) => tapButton(page, /^Go on/)],
];
const ROUNDS = 3;
const tapButton = (page: Page, name: string | RegExp) =>
  page.getByRole('button', { name, ...(typeof name === 'string' ? { exact: true } : {}) }).click();

describe('taps while it listens', () => {
  it(`are answered within ${LATENCY_MS} ms at ${THROTTLE} times slower CPU, on every control`, async () => {
    const { path } = writeRound({ seed: 24, spokes: testSpokes(), style: 'single', snrDb: 25 });
    open = await openPage({ wav: path });
    const { page, context } = open;
    await describeTestWheel(page);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText(new RegExp(`\\b([89]|1\\d) of ${SPOKE_COUNT}`)).waitFor({ timeout: 60_000 });
    await page.evaluate(() => {
      const taps: number[] = [];
      globalThis.interactions = taps;
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) if (entry.name === 'click') taps.push(entry.duration);
      }).observe({ type: 'event', buffered: false, durationThreshold: 16 } as PerformanceObserverInit);
    });
    const devtools = await context.newCDPSession(page);
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: THROTTLE });
    const byControl = new Map<string, number[]>();
    for (let round = 0; round < ROUNDS; round++)
      for (const [name, tap] of CONTROLS) {
        const before = await page.evaluate(() => globalThis.interactions?.length ?? 0);
        await tap(page);
        await page.waitForTimeout(700);
        const own = await page.evaluate((from) => globalThis.interactions?.slice(from) ?? [], before);
        // What is faster than the shortest that the browser reports is not in its list.
        byControl.set(name, [...(byControl.get(name) ?? []), Math.max(0, ...own)]);
      }
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    console.log(
      `tap to next frame at ${THROTTLE}× slower CPU: ${[...byControl].map(([name, ms]) => `${name} ${ms.join(', ')}`).join('; ')} ms`,
    );
    const sorted = [...byControl.values()].flat().sort((a, b) => a - b);
    expect(sorted.filter((ms) => ms > 0).length).toBeGreaterThan(ROUNDS);
    // All but one: a machine that does something else at the same time is not the app's.
    expect(sorted.at(-2)).toBeLessThanOrEqual(LATENCY_MS);
  });
});
