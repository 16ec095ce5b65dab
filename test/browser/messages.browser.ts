import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** A wheel of which only count and sides are known, and a started round; the track of its microphone is kept for the test to play with. */
async function listenTo(page: Page, label?: string): Promise<void> {
  await page.evaluate((name) => {
    const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    navigator.mediaDevices.getUserMedia = async (constraints) => {
      const stream = await ask(constraints);
      const [track] = stream.getAudioTracks();
      const world = globalThis as { track?: MediaStreamTrack | undefined; headset?: string | undefined };
      world.track = track;
      if (!('headset' in world)) world.headset = name;
      if (track !== undefined && world.headset !== undefined)
        Object.defineProperty(track, 'label', { configurable: true, value: world.headset });
      return stream;
    };
  }, label);
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.getByRole('button', { name: 'New wheel' }).click();
  await page.getByRole('button', { name: /Evenness only/ }).click();
  await page.getByRole('button', { name: 'Save and listen' }).click();
  await page.getByRole('button', { name: 'Start listening' }).click();
}
const onTrack = (page: Page, event: 'mute' | 'unmute') =>
  page.evaluate((name) => {
    (globalThis as { track?: MediaStreamTrack }).track?.dispatchEvent(new Event(name));
  }, event);

describe('what the app has to say', () => {
  it('stays in sight while a long screen is scrolled, and hides nothing once it is closed', async () => {
    open = await openPage();
    const { page, errors } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('link', { name: 'Describe' }).click();
    await page.getByRole('button', { name: 'Export this wheel' }).scrollIntoViewIfNeeded();
    const scrolled = await page.evaluate(() => scrollY);
    expect(scrolled).toBeGreaterThan(100);
    await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Export this wheel' }).click()]);
    const message = page.locator('.message');
    await message.waitFor();
    const box = await message.boundingBox();
    expect(box?.y).toBeGreaterThanOrEqual(0);
    expect((box?.y ?? 0) + (box?.height ?? 0)).toBeLessThanOrEqual(page.viewportSize()?.height ?? 0);
    const onTop = await message.evaluate((element) => {
      const { x, y, width, height } = element.getBoundingClientRect();
      return element.contains(document.elementFromPoint(x + width / 2, y + height / 2));
    });
    expect(onTop).toBe(true);
    await message.getByRole('button', { name: 'Close' }).click();
    expect(await message.count()).toBe(0);
    expect(errors).toEqual([]);
  });
});

describe('a microphone', () => {
  it('muted by the system: the screen says that nothing is heard, and goes on by itself when it is back', async () => {
    open = await openPage();
    const { page, errors } = open;
    await listenTo(page);
    await page.getByText(/listening, /).waitFor();
    await onTrack(page, 'mute');
    await page.getByText('The system muted the microphone. The round stands as it is.').waitFor();
    await page.getByText('interrupted, nothing is heard').waitFor();
    await onTrack(page, 'unmute');
    await page.getByText(/listening, /).waitFor();
    expect(await page.locator('.message').count()).toBe(0);
    expect(errors).toEqual([]);
  });

  it('of a wireless headset: refused by name, and forgotten once the own microphone is there', async () => {
    open = await openPage();
    const { page, errors } = open;
    await listenTo(page, 'Hands-free (Bluetooth)');
    await page.getByText('A wireless headset (Hands-free (Bluetooth)) sends telephone sound').waitFor();
    await page.getByText('not listening').waitFor();
    await page.evaluate(() => {
      (globalThis as { headset?: string | undefined }).headset = undefined;
    });
    await page.getByRole('button', { name: /Go on at spoke 1/ }).click();
    await page.getByText(/listening, /).waitFor();
    expect(await page.locator('.message').count()).toBe(0);
    expect(errors).toEqual([]);
  });
});

describe('a device without room', () => {
  it('is told with the way to save all, the round goes on, and the sentence goes when there is room again', async () => {
    open = await openPage();
    const { page, errors } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).waitFor();
    await page.evaluate(() => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = () => {
        throw new DOMException('no room', 'QuotaExceededError');
      };
      Object.assign(globalThis, { roomAgain: () => Object.assign(IDBObjectStore.prototype, { put }) });
    });
    await page.getByRole('button', { name: 'Play the demo aloud' }).click();
    await page.getByText('This device has no room left: the last change could not be saved.').waitFor();
    await page.getByRole('button', { name: 'Export everything' }).waitFor();
    await page.getByText(/\b[2-9] of 32/).waitFor({ timeout: 60_000 });
    await page.evaluate(() => (globalThis as unknown as { roomAgain: () => void }).roomAgain());
    await page.getByText('This device has no room left').waitFor({ state: 'detached', timeout: 30_000 });
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.waitForTimeout(500);
    await page.reload();
    await page.getByText(/\b[2-9] of 32/).waitFor();
    expect(errors).toEqual([]);
  });
});

describe('two tabs that describe one wheel', () => {
  it('each says what the other changed, and no figure goes without a word', async () => {
    open = await openPage();
    const { page, context, base, errors } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).waitFor();
    const address = page.url().replace(/\/[^/]*$/, '/describe');
    const other = await context.newPage();
    const setVisible = (tab: Page) =>
      tab.evaluate(() => {
        Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => 'visible' });
      });
    await other.goto(base);
    for (const tab of [page, other]) {
      await tab.goto(address);
      await setVisible(tab);
      await tab.locator('summary', { hasText: 'Hub and rim' }).click();
    }
    const rim = (tab: Page) => tab.getByLabel('Effective rim diameter');
    await rim(other).fill('598');
    await rim(page).fill('603');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await other.getByText(/Effective rim diameter: 600\smm, now 603\smm/).waitFor();
    await other.getByText(/Saved in another tab meanwhile: 603\smm/).waitFor();
    expect(await rim(other).inputValue()).toBe('598');
    await other.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText(/Effective rim diameter: 603\smm, now 598\smm/).waitFor();
    expect(await rim(page).inputValue()).toBe('598');
    expect(errors).toEqual([]);
  });
});
