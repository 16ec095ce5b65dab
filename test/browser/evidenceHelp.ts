import type { Page } from 'playwright-core';

/** Opens a part of the page unless it is open. */
export async function unfold(page: Page, name: RegExp): Promise<void> {
  const part = page.locator('details.part').filter({ has: page.locator('summary', { hasText: name }) });
  if ((await part.getAttribute('open')) === null) await part.locator('summary').click();
}

/** A gauge that shows marks: 2 marks a step, tensions in kgf. Made up. */
export const CHART = [
  [14, 30],
  [16, 42],
  [18, 56],
  [20, 72],
  [22, 90],
  [24, 112],
  [26, 140],
] as const;

/** The report's table of spokes, row by row, when every tension is there. */
export async function reportRows(page: Page): Promise<readonly string[]> {
  await page.locator('.spoke-rows tbody tr').first().waitFor();
  await page.getByText('Measuring …').first().waitFor({ state: 'detached', timeout: 60_000 });
  return page.locator('.spoke-rows tbody tr').allInnerTexts();
}
