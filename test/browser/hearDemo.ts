import type { Page } from 'playwright-core';

/**
 * Ends at the finished round of the steel demo wheel, from an empty start.
 *
 * @param withinMs for the round to be heard
 * @returns the wheel's address
 */
export async function hearDemo(page: Page, withinMs = 150_000): Promise<string> {
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
  await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
  await page.getByText('All heard').waitFor({ timeout: withinMs });
  return new URL(page.url()).hash.replace(/\/[^/]*$/, '');
}

export async function goTo(page: Page, hash: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = to;
  }, hash);
}
