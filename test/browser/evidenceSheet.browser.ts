import AxeBuilder from '@axe-core/playwright';
import { afterEach, describe, expect, it } from 'vitest';
import { goTo } from './hearDemo.ts';
import { DESK, type OpenPage, openPage, PHONE } from './openPage.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** Sixteen a side, made up; in kgf the right side would be usual. The demo's hub demands left over right of about 0.53. */
const RIGHT = Array.from({ length: 16 }, (_, i) => 110 + (((i * 5) % 9) - 4));
const LEFT = RIGHT.map((value) => value - 8);

async function checkSheet() {
  open = await openPage();
  const { page } = open;
  await page.getByRole('button', { name: 'Understood' }).click();
  // Its hub is the one that the sheet is held against.
  await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
  await page.getByRole('button', { name: 'Hear the demo wheel' }).waitFor();
  await goTo(page, '#/sheet');
  await page.getByLabel('The wheel it was measured on').selectOption({ label: 'Demo: rear wheel, 32 steel spokes' });
  return page;
}
const faults = async (page: OpenPage['page']) =>
  page.locator('.faults li').evaluateAll((items) => items.map((item) => item.getAttribute('data-kind')));

describe('somebody else’s sheet', () => {
  it('with three planted faults: those three are found, and no fourth', async () => {
    const page = await checkSheet();
    // No unit, and figures that fit none; a spread that no definition gives; sides nearly alike on a dished hub.
    const table = [
      'left;right',
      ...RIGHT.map((right, i) => `${((LEFT[i] ?? 0) / 5).toFixed(1)};${(right / 5).toFixed(1)}`),
    ];
    await page.getByLabel('Tensions', { exact: true }).fill(table.join('\n'));
    await page.getByLabel('Mean, right').fill('22.0');
    await page.getByLabel('Spread, right').fill('1.1 %');
    await page.getByText('3 things do not add up.').waitFor();
    expect((await faults(page)).toSorted()).toEqual(['ratioContradicts', 'spreadDoesNotFollow', 'unitMissing']);
    expect(await page.getByText(/To ask the author/).count()).toBe(3);
    await page.getByText('the unit of tension: without it no figure means anything').waitFor();
    for (const size of [PHONE, DESK]) {
      await page.setViewportSize(size);
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(
        violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(' ')).join(' | ')}`),
      ).toEqual([]);
    }
    await page.setViewportSize({ width: 320, height: 640 });
    const wider = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    expect(wider).toBeLessThanOrEqual(0);
  });

  it('that adds up and says what it must is not blamed, and lacks nothing', async () => {
    const page = await checkSheet();
    const left = RIGHT.map((value) => (0.53 * value).toFixed(0));
    await page
      .getByLabel('Tensions', { exact: true })
      .fill(['left (kgf);right (kgf)', ...RIGHT.map((right, i) => `${left[i]};${right}`)].join('\n'));
    await page.getByLabel('Mean, right').fill((RIGHT.reduce((sum, one) => sum + one, 0) / 16).toFixed(1));
    await page.getByLabel('Maximum').fill('120');
    for (const box of await page.getByRole('group', { name: 'What else the author states' }).locator('input').all())
      await box.check({ force: true });
    await page.getByText('Nothing that was looked at contradicts itself.').waitFor();
    expect(await faults(page)).toEqual([]);
    expect(await page.getByRole('heading', { name: 'What the sheet lacks' }).count()).toBe(0);
  });

  it('that gives tones: each goes through the full member, beside the plain string', async () => {
    const page = await checkSheet();
    await page
      .getByLabel('Tensions', { exact: true })
      .fill(
        ['left (N);right (N)', ...RIGHT.map((right) => `${(5.2 * right).toFixed(0)};${(9.8 * right).toFixed(0)}`)].join(
          '\n',
        ),
      );
    await page.locator('summary').filter({ hasText: 'Tones' }).click();
    // The same tone for every spoke of a side: no wheel has that, so most of the table cannot come from it.
    await page.getByLabel('Tones, Hz', { exact: true }).fill(['left;right', ...RIGHT.map(() => '380;593')].join('\n'));
    await page.getByRole('button', { name: 'Turn the tones into tension' }).click();
    const rows = page.getByRole('region', { name: 'Its tones' }).locator('tbody tr');
    await rows.first().waitFor({ timeout: 60_000 });
    expect(await rows.count()).toBe(32);
    const cells = await rows.last().locator('td').allTextContents();
    const [, , member = '', string = ''] = cells;
    const [tension = Number.NaN] = member.split(' ± ').map(Number);
    // Whatever the ends: stiffness makes a spoke ring higher than a string of its tension.
    expect(tension).toBeLessThan(Number(string));
    expect(tension).toBeGreaterThan(0.5 * Number(string));
  });

  it('with several tones a spoke in columns of their own goes through the full member, none lost', async () => {
    const page = await checkSheet();
    const rows = RIGHT.flatMap((right, i) => [
      `L${i + 1};${(0.53 * right).toFixed(1).replace('.', ',')};${340 + i};${712 + 2 * i};`,
      `R${i + 1};${right};${470 + i};${980 + 2 * i};${1560 + 3 * i}`,
    ]);
    await page
      .getByLabel('Tensions', { exact: true })
      .fill(['spoke;kgf;tone 1 Hz;tone 2 Hz;tone 3 Hz', ...rows].join('\n'));
    await page.getByText('16 left, 16 right. Tones: 32 left, 48 right.').waitFor();
    await page.getByRole('button', { name: 'Turn the tones into tension' }).click();
    const table = page.getByRole('region', { name: 'Its tones' }).locator('tbody tr');
    await table.first().waitFor({ timeout: 60_000 });
    expect(await table.count()).toBe(32);
    expect(await table.last().locator('td').first().textContent()).toBe('485, 1010, 1605');
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map((one) => one.id)).toEqual([]);
  });

  it('half filled in, is still there after a reload', async () => {
    const page = await checkSheet();
    await page.getByLabel('Tensions', { exact: true }).fill('left;right\n100;110\n101;112');
    await page.getByText('2 left, 2 right.').waitFor();
    await page.waitForTimeout(300);
    await page.reload();
    await page.getByText('2 left, 2 right.').waitFor();
  });
});
