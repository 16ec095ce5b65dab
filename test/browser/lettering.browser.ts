import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { evidenceWheel } from './evidenceWheel.ts';
import { hearDemo } from './hearDemo.ts';
import { type OpenPage, openPage } from './openPage.ts';

const NARROWEST = { width: 320, height: 640 } as const;
/** CSS pixels, of every letter of a drawing. */
const LEAST_LETTER = 16;
/** Rounding of a layout at whole and half pixels. */
const PIXEL = 0.6;

let open: OpenPage;
let wheelHash = '';
beforeAll(async () => {
  open = await openPage({ size: NARROWEST });
  wheelHash = await hearDemo(open.page, 90_000);
});
afterAll(() => open?.close());

/** With everything folded out. */
async function show(screen: string): Promise<void> {
  const { page } = open;
  await page.evaluate(
    (hash) => {
      location.hash = hash;
    },
    screen.startsWith('#') ? screen : `${wheelHash}/${screen}`,
  );
  await page.locator('main h2, main .place, main label, main svg, main p').first().waitFor({ state: 'attached' });
  await page.waitForTimeout(300);
  await page.evaluate(() => {
    for (const part of document.querySelectorAll('details')) part.open = true;
  });
  await page.waitForTimeout(250);
}

/** Runs in the page: every letter of a drawing that is too small, or that stands out of its sheet. Drawings that only decorate are passed over. */
const lettersAtFault = (least: number): readonly string[] =>
  [...document.querySelectorAll<SVGTextElement>('svg text')].flatMap((letter) => {
    const svg = letter.ownerSVGElement;
    if (svg === null || letter.getClientRects().length === 0 || letter.closest('[aria-hidden="true"]') !== null)
      return [];
    const sheet = svg.getBoundingClientRect();
    // As it is drawn: a sheet that is lower than its width asks for shrinks its letters, too.
    const px = Number.parseFloat(getComputedStyle(letter).fontSize) * (svg.getScreenCTM()?.a ?? 0);
    const box = letter.getBoundingClientRect();
    const inside = box.left >= sheet.left - 1 && box.right <= sheet.right + 1;
    if (px >= least && inside) return [];
    return [`${letter.textContent}: ${px.toFixed(1)} px${inside ? '' : ', out of its sheet'}`];
  });

/** Runs in the page: words that begin on one line and end on the next. The title of the page may be cut short. */
const brokenWords = (): readonly string[] => {
  const broken: string[] = [];
  const range = document.createRange();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    if (node.parentElement?.closest('.unseen, .title-cell, svg, script, style') !== null) continue;
    for (const { 0: word, index } of (node.textContent ?? '').matchAll(/\p{L}{2,}/gu)) {
      range.setStart(node, index);
      range.setEnd(node, index + word.length);
      if (new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size > 1) broken.push(word);
    }
  }
  return broken;
};

describe('at 320 pixels a round that has just ended', () => {
  it('has its wheel whole below the buttons, legible, and the way to the verdict in sight', async () => {
    const { page } = open;
    const [wheel, controls, action] = await page.evaluate(() =>
      ['.wheel-view', '.listen-controls', '.main-action'].map((one) => {
        const { top, bottom } = document.querySelector(one)?.getBoundingClientRect() ?? { top: 0, bottom: 0 };
        return { top, bottom };
      }),
    );
    if (!wheel || !controls || !action) throw new RangeError('expected a wheel and its buttons');
    expect(wheel.bottom - wheel.top).toBeGreaterThan(NARROWEST.width / 2);
    expect(wheel.top).toBeGreaterThanOrEqual(controls.bottom);
    expect(action.bottom).toBeLessThanOrEqual(NARROWEST.height);
    expect(await page.evaluate(lettersAtFault, LEAST_LETTER - PIXEL)).toEqual([]);
  });
});

describe('at 320 pixels drawings', () => {
  it.each([
    'listen',
    'describe',
    'judge',
    '#/help/pluck',
    '#/help/hears',
    '#/help/tones',
    '#/help/plusminus',
    '#/help/known',
    '#/help/unknown',
  ])('have no letter under 16 pixels nor out of the sheet on %s', async (screen) => {
    await show(screen);
    await open.page.locator('main svg text').first().waitFor({ state: 'attached' });
    expect(await open.page.evaluate(lettersAtFault, LEAST_LETTER - PIXEL)).toEqual([]);
  });

  it.each(['listen', 'describe', 'judge', 'report', 'compare', '#/new', '#/settings', '#/sheet', '#/help/known'])(
    'and tables break no word on %s',
    async (screen) => {
      await show(screen);
      expect(await open.page.evaluate(brokenWords)).toEqual([]);
    },
  );

  it('nor has the comparison of two methods, on its own screen and in the report', async () => {
    const { page } = open;
    const path = join(mkdtempSync(join(tmpdir(), 'ringtrue-letters-')), 'wheel.json');
    writeFileSync(path, writeWheelFile(evidenceWheel()));
    await show('#/');
    await page.locator('input[type=file]').setInputFiles(path);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.getByText(/^Imported/).waitFor();
    for (const screen of ['compare', 'report']) {
      await show(`#/wheel/evidence/${screen}`);
      const plots = page.locator('.agreement svg:visible');
      await plots.first().waitFor({ timeout: 60_000 });
      expect(await plots.count()).toBe(2);
      expect(await page.evaluate(lettersAtFault, LEAST_LETTER - PIXEL)).toEqual([]);
    }
  });

  it('nor has the spectrum of the last pluck', async () => {
    const { page } = open;
    await page.evaluate(() => {
      location.hash = '#/';
    });
    await page.getByRole('button', { name: /Demo: composite rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
    await page.getByText(/\b[2-9] of 24/).waitFor({ timeout: 60_000 });
    await page.getByRole('button', { name: 'More', exact: true }).click();
    await page.locator('.spectrum svg text').filter({ visible: true }).first().waitFor();
    // The wheel beside it is as large as the words leave it, and its words stand above it in large letters.
    await page.locator('.wheel-view').evaluate((wheel) => wheel.setAttribute('aria-hidden', 'true'));
    expect(await page.evaluate(lettersAtFault, LEAST_LETTER - PIXEL)).toEqual([]);
  });
});

describe('with the letters of the system set to twice their size, a phone that listens', () => {
  it('breaks neither figure nor verdict within a word, and its buttons cover nothing', async () => {
    await open.close();
    open = await openPage({ letterPx: 32 });
    const { page } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
    await page.getByText(/\b\d of 32/).waitFor({ timeout: 60_000 });
    await page.locator('.verdict').waitFor();
    const broken = await page.evaluate(
      (words) => {
        const [digits, verdict] = ['.digits', '.verdict'].map((one) => document.querySelector<HTMLElement>(one));
        const line = digits?.firstChild;
        if (!digits || !verdict || !line) return ['nothing is shown'];
        const linesOf = (node: Node) => {
          const range = document.createRange();
          range.selectNodeContents(node);
          return new Set([...range.getClientRects()].map(({ top }) => Math.round(top))).size;
        };
        const said = verdict.lastChild as Text;
        const tooWide = words.filter((word) => {
          said.textContent = ` ${word}`;
          return linesOf(said) > 1;
        });
        return [...(linesOf(line) > 1 ? [digits.textContent ?? ''] : []), ...tooWide];
      },
      ['undecided', 'evenness', 'probably', 'cleared'],
    );
    expect(broken).toEqual([]);
    expect(await page.locator('.listen-controls').evaluate((controls) => getComputedStyle(controls).position)).not.toBe(
      'sticky',
    );
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
  });
});
