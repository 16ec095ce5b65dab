import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { DESK, type OpenPage, openPage } from './openPage.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** More than any screen has in a row. */
const MOST_TABS = 60;

const focused = (page: Page) =>
  page.evaluate(() => {
    const element = document.activeElement;
    return (element?.getAttribute('aria-label') ?? element?.textContent ?? '').trim();
  });
/** What the focus stands on is not covered by the bar at the foot, nor out of sight. */
const inSight = (page: Page) =>
  page.evaluate(() => {
    const element = document.activeElement;
    const box = element?.closest('label')?.getBoundingClientRect() ?? element?.getBoundingClientRect();
    const foot = document.querySelector('.foot-action, .listen-controls');
    if (box === undefined || element === null || foot?.contains(element)) return true;
    return box.top >= 0 && box.bottom <= (foot?.getBoundingClientRect().top ?? innerHeight) + 1;
  });
async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let i = 0; i < MOST_TABS; i++) {
    if (name.test(await focused(page))) return;
    await page.keyboard.press('Tab');
  }
  throw new RangeError(`${name} was not reached by ${MOST_TABS} tabs; the focus is on “${await focused(page)}”`);
}

describe('by keys alone', () => {
  it('the focus is never lost from the first screen to the verdict, nor hidden', async () => {
    open = await openPage({ size: DESK });
    const { page, errors } = open;
    await tabTo(page, /^Understood$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toMatch(/^Demo: steel rear wheel/);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Hear the demo wheel' }).waitFor();
    await tabTo(page, /^Hear the demo wheel/);
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('Pause');
    await page.keyboard.press('Space');
    await expect.poll(() => focused(page)).toMatch(/^Go on at spoke/);
    await page.keyboard.press('Space');
    await page.getByText('All heard').waitFor({ timeout: 90_000 });
    await expect.poll(() => focused(page)).toBe('See the verdict');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Details of spoke 3', exact: true }).waitFor();
    await tabTo(page, /^Details of spoke 3$/);
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('Spoke 3, left');
    await page.keyboard.press('Escape');
    await expect.poll(() => focused(page)).toBe('Details of spoke 3');
    expect(errors).toEqual([]);
  });

  it('no field of a description lies under the bar at its foot when it is reached', async () => {
    open = await openPage({ size: DESK });
    const { page } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: 'New wheel' }).first().click();
    await page.getByRole('button', { name: /36 steel spokes/ }).click();
    await tabTo(page, /^Start from another wheel$/);
    const hidden: string[] = [];
    for (let i = 0; i < MOST_TABS && !/^Save and listen$/.test(await focused(page)); i++) {
      await page.keyboard.press('Tab');
      if (!(await inSight(page))) hidden.push(await focused(page));
    }
    expect(await focused(page)).toBe('Save and listen');
    expect(hidden).toEqual([]);
  });
});
