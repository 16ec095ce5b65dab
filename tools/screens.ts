/**
 * Takes a picture of every screen in every theme and size of the built app, into screens-out/ or the folder that SCREENS_OUT names. Build first:
 * `npx vite build`; SCREENS_DIST names another folder of the build. An argument picks one size: phone, small or desk.
 * The wheel in them is the demo wheel, heard through the app's own ear.
 */
import { mkdirSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';
import { preview } from 'vite';
import { findBrowser } from './findBrowser.ts';

const SIZES = {
  phone: { width: 390, height: 844 },
  small: { width: 320, height: 640 },
  desk: { width: 1280, height: 800 },
} as const;
const THEMES = ['light', 'dark', 'sunlight'] as const;
const OUT = process.env.SCREENS_OUT ?? 'screens-out';

interface Screen {
  readonly name: string;
  readonly hash: string;
  readonly before?: (page: Page) => Promise<void>;
  readonly whole?: boolean;
}

const screensOf = (wheel: string): readonly Screen[] => [
  { name: 'wheels', hash: '#/', whole: true },
  { name: 'new', hash: '#/new' },
  { name: 'new-whole', hash: '#/new', whole: true },
  { name: 'describe', hash: `${wheel}/describe`, whole: true, before: unfoldAll },
  { name: 'listen-again', hash: `${wheel}/listen` },
  { name: 'judge', hash: `${wheel}/judge`, whole: true },
  { name: 'judge-top', hash: `${wheel}/judge` },
  {
    name: 'judge-spoke',
    hash: `${wheel}/judge`,
    before: (page) => page.getByRole('button', { name: 'Details of spoke 12' }).click(),
  },
  { name: 'report', hash: `${wheel}/report`, whole: true },
  { name: 'compare', hash: `${wheel}/compare`, whole: true },
  { name: 'sheet', hash: '#/sheet', whole: true },
  { name: 'settings', hash: '#/settings', whole: true },
  { name: 'help', hash: '#/help', whole: true },
  ...['pluck', 'hears', 'tones', 'plusminus', 'known', 'unknown'].map((topic) => ({
    name: `help-${topic}`,
    hash: `#/help/${topic}`,
    whole: true,
  })),
];

async function unfoldAll(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const part of document.querySelectorAll('details.part')) part.setAttribute('open', '');
  });
}

async function picture(page: Page, name: string, whole = false): Promise<void> {
  await page.waitForTimeout(250);
  await page.screenshot({ path: `${OUT}/${name}.png`, fullPage: whole });
}

const goTo = (page: Page, hash: string) =>
  page.evaluate((to) => {
    location.hash = to;
  }, hash);

async function chooseTheme(page: Page, theme: string): Promise<void> {
  await goTo(page, '#/settings');
  await page.getByRole('group', { name: 'Theme' }).getByText(theme, { exact: true }).click();
}

async function oneSize(browser: Browser, base: string, size: keyof typeof SIZES): Promise<void> {
  const context = await browser.newContext({
    viewport: SIZES[size],
    permissions: ['microphone'],
    deviceScaleFactor: 1,
  });
  const page = await context.newPage();
  page.on('pageerror', (error) => console.error(`${size}: ${error.message}`));
  await page.goto(base);
  await page.getByRole('button', { name: 'New wheel' }).waitFor();
  await picture(page, `first-run-${size}-light`);
  await page.getByRole('button', { name: 'Understood' }).click();
  for (const theme of THEMES) {
    await chooseTheme(page, theme);
    await goTo(page, '#/');
    const start = page.getByRole('button', { name: /Demo: steel rear wheel/ });
    if (theme === 'light') {
      await start.click();
      await page.getByRole('button', { name: 'Hear the demo wheel' }).waitFor();
      await picture(page, `listen-start-${size}-${theme}`);
      await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
      await page.getByText(/\b1\d of 32/).waitFor({ timeout: 60_000 });
      await picture(page, `listen-${size}-${theme}`);
      await page.getByRole('button', { name: 'More' }).click();
      await picture(page, `listen-more-${size}-${theme}`, true);
      await page.getByRole('button', { name: 'Close' }).first().click();
      await page.getByText('All heard').waitFor({ timeout: 90_000 });
      await picture(page, `listen-end-${size}-${theme}`);
    } else {
      await page.getByRole('button', { name: /Demo: composite rear wheel/ }).click();
      await page.waitForTimeout(300);
      if (theme === 'dark') await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
      else await page.getByRole('button', { name: /Go on at spoke|Hear the demo wheel/ }).click();
      await page.waitForTimeout(6000);
      await picture(page, `listen-${size}-${theme}`);
      const pause = page.getByRole('button', { name: 'Pause' });
      if (await pause.isVisible()) await pause.click();
    }
    for (const screen of screensOf('#/wheel/demo-steel-rear')) {
      await goTo(page, screen.hash);
      await page.locator('main').first().waitFor({ state: 'attached' });
      await page.waitForTimeout(250);
      await screen.before?.(page);
      await picture(page, `${screen.name}-${size}-${theme}`, screen.whole);
    }
  }
  await context.close();
}

mkdirSync(OUT, { recursive: true });
const server = await preview({
  build: { outDir: process.env.SCREENS_DIST ?? 'dist' },
  preview: { port: 0, host: 'localhost' },
  logLevel: 'error',
});
const base = server.resolvedUrls?.local[0];
if (base === undefined) throw new RangeError('the preview has no address; expected one');
const browser = await chromium.launch({
  executablePath: findBrowser() ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'],
});
const only = process.argv[2];
for (const size of ['phone', 'small', 'desk'] as const)
  if (only === undefined || only === size) await oneSize(browser, base, size);
await browser.close();
await server.close();
