import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHART, unfold } from './evidenceHelp.ts';
import { goTo, hearDemo } from './hearDemo.ts';
import { DESK, type OpenPage, openPage, PHONE } from './openPage.ts';

let open: OpenPage;
let base = '';
beforeAll(async () => {
  open = await openPage();
  base = await hearDemo(open.page);
  await goTo(open.page, `${base}/compare`);
});
afterAll(() => open?.close());

const readings = () => open.page.getByLabel('Readings', { exact: true });
/** As it reads; on the screen number and unit stand on one line. */
const alert = async () => (await open.page.getByRole('alert').first().textContent())?.replaceAll('\u00a0', ' ');
const fill = async (text: string) => {
  await readings().fill(text);
  return text;
};
const taken = () => open.page.getByRole('button', { name: 'Take these readings over' });

describe('a chart that cannot be', () => {
  it('is named by its row, and the gauge is not kept', async () => {
    const { page } = open;
    await page.getByLabel('Name of the gauge').fill('Bench gauge');
    await page.getByText('marks, with a chart').click();
    await page.getByRole('group', { name: 'Unit of the chart’s tensions' }).getByText('kgf').click();
    const chart = page.getByLabel('Chart: reading and tension', { exact: true });
    await chart.fill('20 70\n22 60\n24 115');
    expect(await alert()).toContain('Line 2: tension turns back or stands still here');
    expect(await page.getByRole('button', { name: 'Keep this gauge' }).isDisabled()).toBe(true);
    await chart.fill('20 70\n20 75\n24 115');
    expect(await alert()).toContain('Line 2: the reading 20 stands there twice');
    await chart.fill('reading kgf\n20 70\n22 60\n24 115');
    expect(await alert()).toContain('Line 3: tension turns back or stands still here');
    await chart.fill('20 1.050\n22 1.200');
    expect(await alert()).toContain('The highest of these tensions is 1.2 kgf');
    await chart.fill('20 70\n22 abc\n24 115');
    expect(await alert()).toContain('is no figure');
    await chart.fill(CHART.map((point) => point.join(' ')).join('\n'));
    await page.getByRole('button', { name: 'Keep this gauge' }).click();
    await page.getByText('a table', { exact: true }).click();
  });
});

describe('readings that cannot be', () => {
  it('of a spoke that the wheel does not have, twice of one spoke, or no figure: each line is named, nothing is taken', async () => {
    await fill('1;20\n2;21\n2;22\n77;20\n5;x');
    const said = await alert();
    expect(said).toContain('Nothing is taken over as it stands.');
    expect(said).toContain('Line 3: a spoke that was there already');
    expect(said).toContain('Line 4: a spoke that this wheel does not have');
    expect(said).toContain('Line 5: “x” is no figure');
    expect(await taken().count()).toBe(0);
  });

  it('in two units at once are refused', async () => {
    await fill('1;100 kgf\n2;980 N');
    expect(await alert()).toContain('more than one unit');
    expect(await taken().count()).toBe(0);
  });

  it('with spokes missing are allowed, and the missing ones are named', async () => {
    await fill('1;20,5\n3;20');
    await open.page.getByText(/Without a reading: 2, 4, 5/).waitFor();
    expect(await taken().isEnabled()).toBe(true);
  });

  it('of a side that the spoke does not sit on, or split by a comma, are refused; without numbers the doubt is said', async () => {
    await fill('1;right;20,5\n3;left;20');
    expect(await alert()).toContain('Line 1: the side does not fit the spoke (1: left, not right)');
    await fill('1,20,5\n3,21,5');
    expect(await alert()).toContain('Line 1: too far apart for readings of one spoke (20, 5)');
    expect(await taken().count()).toBe(0);
    await fill('20,5\n21\n22');
    await open.page.getByText('The lines name no spokes, so those missing are taken to be the last').waitFor();
  });

  it('of five million characters leave what was there, and say so', async () => {
    const before = await fill('1;20\n2;21');
    await readings().focus();
    await open.page.evaluate(() => {
      const data = new DataTransfer();
      data.setData('text/plain', '1;20\n'.repeat(1_000_000));
      document.activeElement?.dispatchEvent(
        new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
      );
    });
    expect(await alert()).toContain('5.0 million characters');
    expect(await readings().inputValue()).toBe(before);
  });

  it.each([
    ['UTF-16', Buffer.from('\uFEFFSpoke;größe\r\n1;20,5\r\n2;21', 'utf16le')],
    ['Windows-1252', Buffer.from('Spoke;größe\r\n1;20,5\r\n2;21', 'latin1')],
  ])('from a file in %s are read', async (name, bytes) => {
    const path = join(mkdtempSync(join(tmpdir(), 'ringtrue-csv-')), `${name}.csv`);
    writeFileSync(path, bytes);
    await open.page.locator('input[aria-label="Readings: file"]').setInputFiles(path);
    await open.page.getByText('2 spokes, 2 readings').waitFor();
  });

  it('from a file that is no text leave what was there', async () => {
    const before = await fill('1;20\n2;21');
    const path = join(mkdtempSync(join(tmpdir(), 'ringtrue-csv-')), 'sound.csv');
    writeFileSync(path, Buffer.from([0x52, 0x49, 0x46, 0x46, 0, 0, 1, 2, 3]));
    await open.page.locator('input[aria-label="Readings: file"]').setInputFiles(path);
    expect(await alert()).toContain('sound.csv is no text file');
    expect(await readings().inputValue()).toBe(before);
  });

  it('beyond the chart are left out by name, never extrapolated', async () => {
    await fill('1;18\n3;18,5\n5;17\n7;35');
    await taken().click();
    await open.page.getByText(/Beyond the chart and left out: spoke 7 \(35\), where the chart covers 14–26/).waitFor();
    await open.page.getByText(/^Left side, 3 spokes: /).waitFor();
  });
});

describe('spoke by spoke on the number pad', () => {
  it('goes on in the round’s order, and every figure is kept at once', async () => {
    const { page } = open;
    await unfold(page, /^Readings/);
    await page.getByText('spoke by spoke', { exact: true }).click();
    await page.getByText('Spoke 2, right').waitFor();
    for (const key of ['2', '3', '.', '5']) await page.getByRole('button', { name: key, exact: true }).click();
    await page.getByRole('button', { name: 'Keep, next spoke' }).click();
    await page.getByText('Spoke 3, left').waitFor();
    await page.getByText('5 of 32 spokes have a reading.').waitFor();
    await page.waitForTimeout(300);
    await page.reload();
    await unfold(page, /^Readings/);
    await page.getByText('Spoke 4, right').waitFor();
    await page.getByText('5 of 32 spokes have a reading.').waitFor();
  });
});

describe('with everything filled in', () => {
  it.each([
    ['phone', PHONE, 'compare'],
    ['desk', DESK, 'compare'],
    ['phone', PHONE, 'report'],
    ['desk', DESK, 'report'],
  ] as const)('axe finds nothing on the %s, %j %s', async (_, size, screen) => {
    const { page } = open;
    await page.setViewportSize(size);
    await goTo(page, `${base}/${screen}`);
    await page.getByText(/^Left side, 3 spokes: /).waitFor();
    for (const part of await page.locator('summary').all()) {
      const closed = await part.evaluate((one) => !(one.parentElement as HTMLDetailsElement).open);
      if (closed && (await part.isVisible())) await part.click();
    }
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(
      violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(' | ')}`),
    ).toEqual([]);
  });

  it('nothing is wider than a phone', async () => {
    const { page } = open;
    await page.setViewportSize({ width: 320, height: 640 });
    for (const screen of ['compare', 'report']) {
      await goTo(page, `${base}/${screen}`);
      await page.getByText(/^Left side, 3 spokes: /).waitFor();
      const wider = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wider, screen).toBeLessThanOrEqual(0);
    }
  });
});
