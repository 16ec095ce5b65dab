import AxeBuilder from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hearDemo } from './hearDemo.ts';
import { DESK, type OpenPage, openPage, PHONE } from './openPage.ts';

const THEMES = ['light', 'dark', 'sunlight'] as const;
const SIZES = { phone: PHONE, desk: DESK } as const;

let open: OpenPage;
let wheelHash = '';
beforeAll(async () => {
  open = await openPage();
  wheelHash = await hearDemo(open.page, 90_000);
});
afterAll(() => open?.close());

const screens = (): Readonly<Record<string, string>> => ({
  wheels: '#/',
  'new wheel': '#/new',
  describe: `${wheelHash}/describe`,
  listen: `${wheelHash}/listen`,
  judge: `${wheelHash}/judge`,
  compare: `${wheelHash}/compare`,
  report: `${wheelHash}/report`,
  'check a sheet': '#/sheet',
  settings: '#/settings',
  help: '#/help',
});
const NAMES = [
  'wheels',
  'new wheel',
  'describe',
  'listen',
  'judge',
  'compare',
  'report',
  'check a sheet',
  'settings',
  'help',
];

/** Runs in the page: numbers that may stand on another line than their unit, with what is around them. */
function brokenUnits(): readonly string[] {
  const loose = /\d (?:N|kgf|lbf|k?Hz|mm|kg|g|GPa|bar|°C|s|ms|dB|%)(?![\p{L}\p{N}])/u;
  return [...document.querySelectorAll('body *:not(textarea, script, style)')]
    .filter((element) => [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE))
    .map((element) => element.textContent ?? '')
    .flatMap((text) => {
      const at = text.search(loose);
      return at < 0 ? [] : [text.slice(Math.max(0, at - 30), at + 30)];
    });
}

it('every number keeps its unit on its line, on every screen', async () => {
  const { page } = open;
  for (const name of NAMES) {
    await page.evaluate((hash) => {
      location.hash = hash;
    }, screens()[name] ?? '');
    await page.locator('main').first().waitFor();
    await page.waitForTimeout(400);
    expect([name, ...(await page.evaluate(brokenUnits))]).toEqual([name]);
  }
});

describe.each(THEMES)('in the theme %s', (theme) => {
  beforeAll(async () => {
    const { page } = open;
    await page.evaluate(() => {
      location.hash = '#/settings';
    });
    await page.getByRole('group', { name: 'Theme' }).getByText(theme, { exact: true }).click();
  });
  describe.each(Object.entries(SIZES))('at %s size', (_, size) => {
    it.each(NAMES)('axe finds nothing on %s', async (name) => {
      const { page } = open;
      await page.setViewportSize(size);
      await page.evaluate((hash) => {
        location.hash = hash;
      }, screens()[name] ?? '');
      await page.locator('main').first().waitFor();
      await page.waitForTimeout(150);
      for (const part of await page.locator('summary').all()) if (await part.isVisible()) await part.click();
      const { violations } = await new AxeBuilder({ page }).analyze();
      const found = violations.map(
        (violation) => `${violation.id}: ${violation.nodes.map((node) => node.target.join(' ')).join(' | ')}`,
      );
      expect(found).toEqual([]);
    });
  });
});
