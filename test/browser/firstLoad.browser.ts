import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { builtFolder } from './builtFolder.ts';
import { type OpenPage, openPage } from './openPage.ts';

/** JavaScript that may be loaded before the first screen works, gzipped. */
const BUDGET_KB = 60;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

describe('the first screen', () => {
  it(`works after at most ${BUDGET_KB} kB of JavaScript, gzipped`, async () => {
    open = await openPage({ url: 'about:blank' });
    const { page, base } = open;
    const loaded = new Set<string>();
    page.on('response', (response) => {
      const { pathname } = new URL(response.url());
      if (pathname.endsWith('.js')) loaded.add(pathname);
    });
    await page.goto(base);
    await page.getByRole('button', { name: 'New wheel' }).waitFor();
    const now = [...loaded];
    const bytes = now.map((path) => gzipSync(readFileSync(join(builtFolder(), path)), { level: 9 }).length);
    const total = bytes.reduce((sum, value) => sum + value, 0);
    console.log(
      `JavaScript before the first screen works: ${(total / 1000).toFixed(1)} kB gz (${now.map((path, index) => `${path.split('/').at(-1)} ${((bytes[index] ?? 0) / 1000).toFixed(1)}`).join(', ')})`,
    );
    expect(now.length).toBeGreaterThan(0);
    expect(total / 1000).toBeLessThanOrEqual(BUDGET_KB);
  });

  it('waits for its page and packed scripts alone: styles come inside the page, what serves later use comes later', async () => {
    open = await openPage({ url: 'about:blank' });
    const { page, base } = open;
    const asked: { readonly path: string; readonly packed: boolean }[] = [];
    page.on('response', (response) => {
      const path = new URL(response.url()).pathname;
      // The browser's own affair, and nothing waits for it.
      if (/\.(svg|png|webmanifest)$/.test(path)) return;
      asked.push({ path, packed: response.headers()['content-encoding'] === 'gzip' });
    });
    await page.goto(base);
    await page.getByRole('button', { name: 'Demo: steel rear wheel' }).and(page.locator(':enabled')).waitFor();
    const [first, ...scripts] = [...asked];
    expect(first?.path).toBe('/');
    expect(scripts.length).toBeGreaterThan(0);
    for (const { path, packed } of scripts) {
      expect(path).toMatch(/^\/assets\/[\w-]+\.js$/);
      expect(packed).toBe(true);
    }
    expect(await page.locator('link[rel=stylesheet]').count()).toBe(0);
    expect(await page.locator('body').evaluate((body) => getComputedStyle(body).margin)).toBe('0px');
    // Its part for use without a network is fetched all the same, once the first screen stands.
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    expect(asked.some(({ path }) => path.endsWith('/sw.js') || path.includes('workbox'))).toBe(true);
  });

  it('asks for nothing from elsewhere', async () => {
    open = await openPage({ url: 'about:blank' });
    const { page, base } = open;
    const foreign: string[] = [];
    page.on('request', (request) => {
      const { protocol, origin } = new URL(request.url());
      if (protocol.startsWith('http') && origin !== new URL(base).origin) foreign.push(request.url());
    });
    await page.goto(base);
    await page.getByRole('button', { name: 'New wheel' }).waitFor();
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    expect(foreign).toEqual([]);
  });
});
