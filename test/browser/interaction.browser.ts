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

describe('taps while it listens', () => {
  it(`are answered within ${LATENCY_MS} ms at ${THROTTLE} times slower CPU`, async () => {
    const { path } = writeRound({ seed: 24, spokes: testSpokes(), style: 'single', snrDb: 25 });
    open = await openPage({ wav: path });
    const { page, context } = open;
    await describeTestWheel(page);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText(`8 of ${SPOKE_COUNT}`).waitFor({ timeout: 60_000 });
    await page.evaluate(() => {
      const durations: number[] = [];
      globalThis.interactions = durations;
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) if (entry.name === 'click') durations.push(entry.duration);
      }).observe({ type: 'event', buffered: false, durationThreshold: 16 } as PerformanceObserverInit);
    });
    const devtools = await context.newCDPSession(page);
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: THROTTLE });
    for (let i = 0; i < 12; i++) {
      await page.getByRole('button', { name: i % 2 ? 'Back' : 'Skip' }).click();
      await page.waitForTimeout(700);
    }
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    const durations = (await page.evaluate(() => globalThis.interactions)) ?? [];
    const sorted = [...durations].sort((a, b) => a - b);
    console.log(`tap to next frame at ${THROTTLE}× slower CPU: ${sorted.join(', ')} ms`);
    expect(durations.length).toBeGreaterThan(0);
    // All but one: a machine that does something else at the same time is not the app's.
    expect(sorted.at(-2)).toBeLessThanOrEqual(LATENCY_MS);
  });
});
