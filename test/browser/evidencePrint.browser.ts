import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { SIMULATED } from '../spokes/simulatedRound.ts';
import { reportRows, unfold } from './evidenceHelp.ts';
import { evidenceWheel } from './evidenceWheel.ts';
import { goTo } from './hearDemo.ts';
import { DESK, type OpenPage, openPage, PHONE } from './openPage.ts';

/** Printable width: the paper's less the report's margins of 14 mm, at 96 pixels an inch. */
const PAPERS = [
  ['A4', { widthPt: 595.3, heightPt: 841.9, printablePx: Math.floor(((210 - 28) / 25.4) * 96) }],
  ['Letter', { widthPt: 612, heightPt: 792, printablePx: Math.floor(((215.9 - 28) / 25.4) * 96) }],
] as const;
/** Less half a millimetre: boxes of words are as wide as their font says, not as their ink. */
const MARGIN_PT = ((14 - 0.5) / 25.4) * 72;
/** Smaller print is not read on paper. `common practice` */
const SMALLEST_PT = 7;

const folder = mkdtempSync(join(tmpdir(), 'ringtrue-print-'));
let open: OpenPage;
beforeAll(async () => {
  open = await openPage({ size: DESK });
  const { page } = open;
  const path = join(folder, 'wheel.json');
  writeFileSync(path, writeWheelFile(evidenceWheel()));
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.locator('input[type=file]').setInputFiles(path);
  await page.getByRole('button', { name: 'Import', exact: true }).click();
  await page.getByText(/^Imported/).waitFor();
  await goTo(page, '#/wheel/evidence/report');
  await reportRows(page);
  await page.getByLabel('Before and after, against').selectOption({ label: '2026-02-03 09:10, A. N., tyre off' });
  await page.getByText('32 of 32 spokes changed').waitFor();
  await page.getByText(/^Split: /).waitFor({ timeout: 60_000 });
});
afterAll(() => open?.close());

const rowsOf = (label: string) =>
  open.page
    .getByRole('region', { name: label, exact: true })
    .locator('tbody tr')
    .evaluateAll((rows) =>
      rows.map((row) => [...row.children].map((cell) => (cell.textContent ?? '').replace(/\s/g, ' '))),
    );

describe('on a phone', () => {
  it.each([PHONE, { width: 320, height: 640 }])(
    'of $width pixels no figure of a spoke lies out of sight, head and all',
    async (size) => {
      const { page } = open;
      await page.setViewportSize(size);
      const hidden = await page.locator('.spoke-rows').evaluate((table) => {
        const frame = table.parentElement?.getBoundingClientRect();
        return [...table.querySelectorAll('th, td')].flatMap((cell) => {
          const words = document.createRange();
          words.selectNodeContents(cell);
          const { left, right } = words.getBoundingClientRect();
          return frame && left >= frame.left - 1 && right <= frame.right + 1 ? [] : [cell.textContent];
        });
      });
      expect(hidden).toEqual([]);
      const spokes = await page.locator('.spoke-rows tbody tr').count();
      expect(spokes).toBe(32);
      await page.setViewportSize(DESK);
    },
  );
});

describe('a report with known tensions, before and after', () => {
  it('tells of every known tension what became of it', async () => {
    const outcomes = (await rowsOf('Known tensions')).map(([spoke, , , , outcome]) => `${spoke}: ${outcome}`);
    expect(outcomes).toEqual([
      'Spoke 3: Weighed in: right, 2.0 / 1.8.',
      'Spoke 8: Weighed in: left, 2.0 / 1.8.',
      'Spoke 6: Not used. The spoke was not heard at this tension.',
      expect.stringMatching(/^Loose: 2\.0 \/ 1\.8, 280 mm, in its nipple: Weighed in: /),
      'Spoke 33: Not used. Spokes are numbered 1–32: enter one of these.',
    ]);
  });

  it('prints each change with its ±, as large as the simulated one', async () => {
    const changes = await rowsOf('Before and after, spoke by spoke');
    expect(changes).toHaveLength(32);
    for (const [i, [, before = '', after = '', change = '']] of changes.entries()) {
      const [, value = '', expanded = ''] = /^([+−]\d+) ± (\d+)$/.exec(change) ?? [];
      const shown = Number(value.replace('−', '-'));
      // Each figure is rounded by itself.
      expect(Math.abs(shown - (Number(after) - Number(before)))).toBeLessThanOrEqual(1);
      const truth = (SIMULATED.truth[i] ?? 0) * (0.14 - 0.01 * ((5 * i) % 9));
      expect(Math.abs(shown - truth), `spoke ${i + 1}`).toBeLessThan(1.5 * Number(expanded) + 0.5);
    }
  });

  it.each(PAPERS)('on %s nothing is cut and nothing too small to read', async (_, { printablePx }) => {
    const { page } = open;
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: printablePx, height: 1000 });
    const found = await page.evaluate(
      (smallestPx) => {
        const seen = [...document.querySelectorAll('main, main *')].filter(
          (one) => one instanceof HTMLElement && one.checkVisibility(),
        );
        const name = (one: Element) => `${one.tagName} ${one.className} ${one.textContent?.slice(0, 40)}`;
        return {
          wider: document.documentElement.scrollWidth - document.documentElement.clientWidth,
          cut: seen.filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0).map(name),
          small: seen.filter((one) => Number.parseFloat(getComputedStyle(one).fontSize) < smallestPx).map(name),
        };
      },
      (SMALLEST_PT / 72) * 96,
    );
    await page.emulateMedia({ media: null });
    await page.setViewportSize(DESK);
    expect(found).toEqual({ wider: 0, cut: [], small: [] });
  });

  it.each(PAPERS)(
    'on %s every sheet with rows of a table has its head, and all words lie inside the margins',
    async (format, { widthPt, heightPt }) => {
      const path = join(folder, `${format}.pdf`);
      const pdf = await open.page.pdf({ path, format });
      expect((pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length).toBeGreaterThan(10);
      const text = spawnSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' });
      if (text.error) return;
      const sheets = text.stdout.split('\f');
      for (const [row, head] of [
        [/^\s*\d+ [LR]\s.*\d: \d/m, /Tension ±/],
        [/^\s*\d+ [LR]\s.*\schanged$/m, /Change ± U, N/],
        [/^\s*\d+\s+(?:left|right)\s+\d+ ± \d+/m, /Gauge ± U, N/],
      ] as const) {
        const withRows = sheets.filter((sheet) => row.test(sheet));
        expect(withRows.length, `${head}`).toBeGreaterThan(0);
        for (const sheet of withRows) expect(sheet).toMatch(head);
      }
      // A side's plot and figures leave room for more on their sheet; on Letter that hangs on the length of the sentences.
      const parts = [
        /^ *Second method: /m,
        /Left side, ear less/,
        /Right side, ear less/,
        /Both methods, spoke by spoke/,
      ];
      for (const sheet of format === 'A4' ? sheets.filter((one) => / side, ear less gauge/.test(one)) : [])
        expect(parts.filter((part) => part.test(sheet)).length).toBeGreaterThan(1);
      // The heading of the worked spoke is on the sheet on which its first line is.
      expect(sheets.find((sheet) => sheet.includes('One spoke to follow'))).toMatch(/\n\s*1\. Lowest tone/);
      const boxes = spawnSync('pdftotext', ['-bbox', path, '-'], { encoding: 'utf8' }).stdout;
      const words = [...boxes.matchAll(/<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)"/g)];
      expect(words.length).toBeGreaterThan(2000);
      const outside = words.filter(([, left, top, right, bottom]) => {
        const [x0, y0, x1, y1] = [left, top, right, bottom].map(Number) as [number, number, number, number];
        return x0 < MARGIN_PT || x1 > widthPt - MARGIN_PT || y0 < 0 || y1 > heightPt;
      });
      expect(outside.map(([whole]) => whole)).toEqual([]);
    },
  );

  it('hands out every picture that it prints', async () => {
    const { page } = open;
    await unfold(page, /^Files/);
    const named = await page.getByRole('button', { name: /as SVG$/ }).allTextContents();
    expect(named).toEqual(
      ['Wheel', 'Strip', 'Before and after', 'Left plot', 'Right plot'].map((one) => `${one} as SVG`),
    );
    await page.emulateMedia({ media: 'print' });
    const printed = await page.evaluate(
      () =>
        [...document.querySelectorAll('main svg[aria-label], main svg[role=img]')].filter((one) =>
          one.checkVisibility(),
        ).length,
    );
    await page.emulateMedia({ media: null });
    const downloading = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Before and after as SVG' }).click();
    const path = join(folder, 'before-after.svg');
    await (await downloading).saveAs(path);
    expect(readFileSync(path, 'utf8')).toMatch(/^<svg[\s\S]*Before as rings, after as marks[\s\S]*<\/svg>\s*$/);
    expect(printed).toBe(named.length);
  });

  it('leaves nothing logged as an error', () => {
    expect(open.errors).toEqual([]);
  });
});
