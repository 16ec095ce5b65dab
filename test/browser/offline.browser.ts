import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';
import { startPreview } from './startPreview.ts';

let open: OpenPage | undefined;
let server: Awaited<ReturnType<typeof startPreview>> | undefined;
afterEach(async () => {
  await open?.close();
  await server?.close();
  open = undefined;
  server = undefined;
});

describe('without a network', () => {
  it('everything works with the server gone: the demo is heard, judged, kept and found again', async () => {
    server = await startPreview();
    open = await openPage({ url: server.url });
    const { context, errors } = open;
    await open.page.waitForFunction(async () => {
      const registration = await navigator.serviceWorker.ready;
      return registration.active?.state === 'activated';
    });
    await open.page.close();
    await server.close();
    const { url } = server;
    server = undefined;

    const page = await context.newPage();
    page.on('pageerror', (error) => errors.push(error.message));
    await page.goto(url);
    expect(
      await page.evaluate(() =>
        fetch('/nothing-there').then(
          () => true,
          () => false,
        ),
      ),
    ).toBe(false);
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
    await page.getByText('All heard').waitFor({ timeout: 90_000 });
    await page.getByRole('link', { name: 'See the verdict' }).click();
    await page
      .getByText(/\d+\sN/)
      .first()
      .waitFor({ timeout: 20_000 });

    await page.reload();
    await page
      .getByText(/\d+\sN/)
      .first()
      .waitFor({ timeout: 20_000 });
    expect(errors).toEqual([]);
  });

  it('a round that was open goes on after a crash at the spoke where it was', async () => {
    open = await openPage();
    const { page, errors } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
    await page.getByText(/\b(9|1\d) of 32/).waitFor({ timeout: 60_000 });
    // A navigation away at full speed: nothing is given the time to tidy up.
    await page.goto('about:blank');
    await page.goBack();
    await page.getByText('An unfinished round waits here. Everything settled is kept.').waitFor();
    const progress = await page.getByText(/\d+ of 32/).textContent();
    expect(Number(/(\d+) of 32/.exec(progress ?? '')?.[1])).toBeGreaterThanOrEqual(9);
    await page.getByRole('button', { name: /Go on at spoke/ }).click();
    await page.getByText('All heard').waitFor({ timeout: 90_000 });
    expect(errors).toEqual([]);
  });
});
