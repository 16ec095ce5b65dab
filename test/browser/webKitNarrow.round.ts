import { afterEach, describe, expect, it } from 'vitest';
import { findWebKit } from '../../tools/findWebKit.ts';
import { driverHand, ROUND_MS } from './hand.ts';
import { hiddenParts } from './hiddenParts.ts';
import { openWebKit } from './openWebKit.ts';
import { startPreview } from './startPreview.ts';
import { tooWide } from './tooWide.ts';
import type { WebDriverPage } from './webDriver.ts';

const webKit = findWebKit();
if (!webKit.ok) console.warn(`Not run in WebKitGTK: ${webKit.reason}.`);

const toClose: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of toClose.splice(0).reverse()) await close();
});

const WHEEL = '#/wheel/demo-steel-rear';
const SCREENS = [
  '#/',
  '#/new',
  `${WHEEL}/describe`,
  `${WHEEL}/listen`,
  `${WHEEL}/judge`,
  `${WHEEL}/compare`,
  `${WHEEL}/report`,
  '#/sheet',
  '#/settings',
  '#/help',
  ...['pluck', 'hears', 'tones', 'plusminus', 'known', 'unknown'].map((topic) => `#/help/${topic}`),
];

/** The page in a frame of that size: the browser's own window is never narrower than its tool bar. */
async function narrowed(page: WebDriverPage, url: string, width: number, height: number): Promise<void> {
  await page.resize(1200, 950);
  await page.goTo(url);
  await page.evaluate(
    (src, size) => {
      const frame = document.createElement('iframe');
      frame.style.cssText = `border: 0; width: ${size.width}px; height: ${size.height}px`;
      frame.src = src;
      document.body.replaceChildren(frame);
    },
    url,
    { width, height },
  );
  await page.enterFrame(() => document.querySelector('iframe') ?? undefined);
}

async function expectFits(page: WebDriverPage, hash: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = to;
  }, hash);
  await page.waitFor(`the screen ${hash}`, 30_000, () => document.querySelector('main:not([aria-busy])') !== null);
  await page.evaluate(() => {
    for (const part of document.querySelectorAll('details')) part.open = true;
  });
  // Unfolding and lazily loaded parts need a moment.
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect(await page.evaluate(tooWide), hash).toEqual([]);
}

describe.skipIf(!webKit.ok)('in WebKitGTK, as narrow as a phone', () => {
  it.each([
    [390, 844],
    [390, 664],
    [320, 640],
  ])(
    'at %i × %i a round is in sight while it listens, and no screen needs a sideways scroll',
    async (width, height) => {
      if (!webKit.ok) return;
      const server = await startPreview();
      toClose.push(server.close);
      const { page, close } = await openWebKit(webKit);
      toClose.push(close);
      await narrowed(page, server.url, width, height);
      const hand = driverHand(page);
      await hand.tap('Understood');
      expect(await page.evaluate(() => [innerWidth, innerHeight])).toEqual([width, height]);
      await hand.tap('Demo: steel rear wheel');
      await hand.tap('Hear the demo wheel, fast and without sound');
      await hand.until('a few spokes', () => Number(document.querySelector('progress')?.value) >= 3, ROUND_MS);
      expect(await page.evaluate(hiddenParts)).toEqual([]);
      await hand.see('All heard', ROUND_MS);
      for (const screen of SCREENS) await expectFits(page, screen);
    },
  );
});
