import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { builtFolder } from './builtFolder.ts';
import { DESK, type OpenPage, openPage } from './openPage.ts';
import { startPreview } from './startPreview.ts';

let open: OpenPage | undefined;
let server: Awaited<ReturnType<typeof startPreview>> | undefined;
afterEach(async () => {
  await open?.close();
  await server?.close();
  open = undefined;
  server = undefined;
});

/** Begins the demo at the speed of a hand, and waits until spokes are settled. */
async function demoUnderWay(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
  await page.getByRole('button', { name: 'Play the demo aloud' }).click();
  await page.getByText(/\b[2-9] of 32/).waitFor({ timeout: 60_000 });
}
const heard = async (page: Page) =>
  Number(/(\d+) of 32/.exec((await page.locator('.progress').textContent()) ?? '')?.[1]);
/** Lost when the page is loaded anew. */
const mark = (page: Page) => page.evaluate(() => void Object.assign(globalThis, { marked: true }));
const isMarked = (page: Page) => page.evaluate(() => 'marked' in globalThis);
/** The tab hears nothing of what others save, as one that was asleep. */
const deafen = (page: Page) => page.addInitScript(() => Reflect.deleteProperty(globalThis, 'BroadcastChannel'));
/** Of each round in the device's own database. */
const pluckCounts = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<readonly number[]>((resolve, reject) => {
        const opening = indexedDB.open('ringtrue');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const asking = opening.result.transaction('rounds').objectStore('rounds').getAll();
          asking.onerror = () => reject(asking.error);
          asking.onsuccess = () => resolve(asking.result.map(({ round }) => round.plucks.length));
        };
      }),
  );
const setVisibility = (page: Page, state: 'visible' | 'hidden') =>
  page.evaluate((wanted) => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => wanted });
    document.dispatchEvent(new Event('visibilitychange'));
  }, state);

describe('the way back', () => {
  it('out of a round stops the ear, and into it again goes on where it stood', async () => {
    open = await openPage();
    const { page, errors } = open;
    await demoUnderWay(page);
    const before = await heard(page);
    await page.goBack();
    await page.getByRole('button', { name: 'New wheel' }).waitFor();
    await page.goForward();
    await page.getByRole('button', { name: /Go on at spoke/ }).waitFor();
    expect(await heard(page)).toBeGreaterThanOrEqual(before);
    expect(errors).toEqual([]);
  });

  it('to the verdict in mid-round stops the ear too: nothing is credited unseen', async () => {
    open = await openPage({ size: DESK });
    const { page, errors } = open;
    await demoUnderWay(page);
    await page.getByRole('link', { name: 'Judge' }).click();
    await page.getByText('This round is still open.').waitFor();
    await page.getByRole('button', { name: 'Go on with it' }).click();
    const before = await heard(page);
    await page.getByText('not listening').waitFor();
    await page.getByRole('button', { name: /Go on at spoke/ }).click();
    await page.getByText(new RegExp(`\\b${before + 1} of 32`)).waitFor({ timeout: 60_000 });
    expect(errors).toEqual([]);
  });
});

describe('two tabs', () => {
  it('show the same round as it grows, and only one of them listens', async () => {
    open = await openPage();
    const { page, context, base, errors } = open;
    const other = await context.newPage();
    const third = await context.newPage();
    for (const tab of [other, third]) {
      await tab.goto(base);
      await tab.getByRole('button', { name: 'New wheel' }).waitFor();
      await mark(tab);
    }
    await setVisibility(third, 'hidden');
    await demoUnderWay(page);
    await other.getByRole('link', { name: /Demo: rear wheel, 32 steel/ }).click();
    await other.getByRole('button', { name: /Go on at spoke/ }).waitFor();
    const before = await heard(other);
    await other.getByText(new RegExp(`\\b${before + 2} of 32`)).waitFor({ timeout: 60_000 });
    await other.getByRole('button', { name: /Go on at spoke/ }).click();
    await other.getByText('Another tab or window of this app listens already.').waitFor();

    await page.getByRole('button', { name: 'Pause' }).click();
    await other.getByRole('button', { name: /Go on at spoke/ }).click();
    const then = await heard(other);
    await page.getByText(new RegExp(`\\b${then + 1} of 32`)).waitFor({ timeout: 60_000 });
    await other.getByRole('button', { name: 'Pause' }).click();
    // One more may have sounded without being settled.
    const last = await heard(other);
    await setVisibility(third, 'visible');
    await third
      .getByText(new RegExp(`\\b(${last}|${last + 1}) spokes heard`))
      .and(third.locator(':visible'))
      .waitFor();
    for (const tab of [other, third]) expect(await isMarked(tab)).toBe(true);
    expect(errors).toEqual([]);
  });

  it('one that heard nothing of the other writes over nothing: both rounds are kept', async () => {
    open = await openPage();
    const { page, context, base, errors } = open;
    const other = await context.newPage();
    await deafen(other);
    await other.goto(base);
    await other.getByRole('button', { name: 'Understood' }).click();
    await other.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await other.getByRole('button', { name: 'Play the demo aloud' }).waitFor();
    await page.reload();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Play the demo aloud' }).click();
    await page.getByText(/\b[2-9] of 32/).waitFor({ timeout: 60_000 });
    await page.getByRole('button', { name: 'Pause' }).click();
    await other.getByRole('button', { name: 'Play the demo aloud' }).click();
    await other.getByText('Another tab or window of this app changed the same wheel.').waitFor();
    await other.getByText(/\b[2-9] of 32/).waitFor({ timeout: 60_000 });
    await other.getByRole('button', { name: 'Pause' }).click();
    await expect.poll(() => pluckCounts(other)).toHaveLength(2);
    const plucks = await pluckCounts(other);
    for (const count of plucks) expect(count).toBeGreaterThanOrEqual(4);
    expect(errors).toEqual([]);
  });
});

describe('a new version', () => {
  it('is not offered in mid-round, nor does an update from another tab end it', async () => {
    let version = '';
    server = await startPreview([
      {
        name: 'next-version',
        configurePreviewServer: ({ middlewares }) => {
          middlewares.use((request, response, next) => {
            if (!request.url?.startsWith('/sw.js')) return next();
            response.setHeader('content-type', 'text/javascript');
            response.setHeader('cache-control', 'no-cache');
            response.end(readFileSync(join(builtFolder(), 'sw.js'), 'utf8') + version);
          });
        },
      },
    ]);
    open = await openPage({ url: server.url });
    const { page, context, errors } = open;
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active?.state === 'activated');
    // Controlled from the start, as every visit but the first is.
    await page.reload();
    await demoUnderWay(page);
    await mark(page);
    version = '\n// next';
    await page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).waiting !== null);
    expect(await page.getByText('A new version of the app is ready.').count()).toBe(0);

    const other = await context.newPage();
    await other.goto(server.url);
    await other.getByText('A new version of the app is ready.').waitFor();
    await other.getByRole('button', { name: 'Update now' }).click();
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).waiting === null);
    const before = await heard(page);
    await page.getByText(new RegExp(`\\b${before + 2} of 32`)).waitFor({ timeout: 60_000 });
    expect(await isMarked(page)).toBe(true);

    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByText('An unfinished round waits here. Everything settled is kept.').waitFor();
    expect(await isMarked(page)).toBe(false);
    expect(await heard(page)).toBeGreaterThanOrEqual(before + 2);
    expect(errors).toEqual([]);
  });
});
