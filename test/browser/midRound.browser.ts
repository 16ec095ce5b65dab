import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { bringLiveHand } from './liveHand.ts';
import { livePlucks } from './livePlucks.ts';
import { type OpenPage, openPage, PHONE } from './openPage.ts';
import { testSpokes } from './testWheel.ts';

const SPOKES = 12;
/** For a pluck or two of the hand, which plucks every 2 s. */
const PLUCKS_MS = 60_000;
/** Longer than the hand needs to settle a spoke. */
const SETTLES_MS = 6000;
const PIXEL = 0.6;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

interface World {
  contexts: AudioContext[];
  tracks: MediaStreamTrack[];
  rateHz?: number;
  headset?: boolean;
}

/** Runs in the page before the app: keeps what the app opens, so that the system's hand can be played. */
function playSystem(): void {
  const world = globalThis as unknown as World;
  world.contexts = [];
  world.tracks = [];
  const Own = AudioContext;
  globalThis.AudioContext = class extends Own {
    constructor(options?: AudioContextOptions) {
      super(options);
      // The ear's; the hand's is the other kind.
      if (options?.latencyHint === 'interactive') world.contexts.push(this);
    }
  };
  const ask = MediaDevices.prototype.getUserMedia;
  MediaDevices.prototype.getUserMedia = async function (constraints) {
    const stream = await ask.call(this, constraints);
    for (const track of stream.getAudioTracks()) {
      const said = track.getSettings.bind(track);
      track.getSettings = () => ({ ...said(), ...(world.rateHz === undefined ? {} : { sampleRate: world.rateHz }) });
      world.tracks.push(track);
    }
    return stream;
  };
  const list = MediaDevices.prototype.enumerateDevices;
  MediaDevices.prototype.enumerateDevices = async function () {
    const all = await list.call(this);
    const headset = { deviceId: 'h', groupId: 'h', kind: 'audioinput', label: 'Headset' } as MediaDeviceInfo;
    return world.headset === true ? [...all, headset] : all;
  };
}

/** A wheel of which only count and sides are known, a hand that plucks what the screen asks for, and two spokes heard. */
async function underWay(): Promise<OpenPage> {
  const opened = await openPage({
    before: async (page) => {
      await bringLiveHand(page, { spokes: SPOKES, takes: 3 }, () =>
        livePlucks({ seed: 'mid round', spokes: testSpokes(SPOKES), style: 'single', snrDb: 25 }, 3),
      );
      await page.addInitScript(playSystem);
    },
  });
  open = opened;
  const { page } = opened;
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.getByRole('button', { name: 'New wheel' }).click();
  await page.getByRole('button', { name: /Evenness only/ }).click();
  await page.getByLabel('Spokes', { exact: true }).fill(`${SPOKES}`);
  await page.getByRole('button', { name: 'Save and listen' }).click();
  await page.getByRole('button', { name: 'Start listening' }).click();
  await heardAtLeast(page, 2);
  return opened;
}
const heard = async (page: Page) =>
  Number(/(\d+) of 12/.exec((await page.locator('.progress').textContent()) ?? '')?.[1] ?? Number.NaN);
const heardAtLeast = (page: Page, count: number) =>
  expect.poll(() => heard(page), { timeout: PLUCKS_MS, interval: 200 }).toBeGreaterThanOrEqual(count);
const setVisibility = (page: Page, state: 'visible' | 'hidden') =>
  page.evaluate((wanted) => {
    Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => wanted });
    document.dispatchEvent(new Event('visibilitychange'));
  }, state);
const setHeadset = (page: Page, on: boolean, rateHz?: number) =>
  page.evaluate(
    ([headset, rate]) => {
      Object.assign(globalThis, { headset, rateHz: rate });
      navigator.mediaDevices.dispatchEvent(new Event('devicechange'));
    },
    [on, rateHz] as const,
  );
const onEar = (page: Page, what: 'suspend' | 'end') =>
  page.evaluate((wanted) => {
    const { contexts, tracks } = globalThis as unknown as World;
    if (wanted === 'end') tracks.at(-1)?.dispatchEvent(new Event('ended'));
    else void contexts.at(-1)?.suspend();
  }, what);
const nothingMore = async (page: Page, was: number) => {
  await page.waitForTimeout(SETTLES_MS);
  expect(await heard(page)).toBe(was);
};

describe('in mid-round', () => {
  it('a phone turned on its side and back loses nothing: the spoke to pluck stays in sight, a pause stays one', async () => {
    const { page, errors } = await underWay();
    const side = { width: PHONE.height, height: PHONE.width };
    const inSight = async (size: { readonly width: number; readonly height: number }) => {
      for (const part of ['.place', '.progress', '.signs', '.main-action', '.wheel-view svg .flag']) {
        const box = await page.locator(part).first().boundingBox();
        expect(box, part).not.toBeNull();
        expect(box?.y, part).toBeGreaterThanOrEqual(-PIXEL);
        expect((box?.y ?? 1e9) + (box?.height ?? 0), part).toBeLessThanOrEqual(size.height + PIXEL);
        expect((box?.x ?? 1e9) + (box?.width ?? 0), part).toBeLessThanOrEqual(size.width + PIXEL);
      }
    };
    await page.setViewportSize(side);
    await inSight(side);
    const before = await heard(page);
    await heardAtLeast(page, before + 1);
    await inSight(side);
    await page.getByRole('button', { name: 'Pause' }).click();
    const place = await page.locator('.place').textContent();
    const paused = await heard(page);
    await page.setViewportSize(PHONE);
    await nothingMore(page, paused);
    expect(await page.locator('.place').textContent()).toBe(place);
    await page.getByRole('button', { name: /Go on at spoke/ }).click();
    await heardAtLeast(page, paused + 1);
    await inSight(PHONE);
    expect(errors).toEqual([]);
  });

  it('a locked phone hears nothing, says so, and goes on by itself when it is back', async () => {
    const { page, errors } = await underWay();
    await setVisibility(page, 'hidden');
    await onEar(page, 'suspend');
    await page.getByText('interrupted, nothing is heard').waitFor();
    await page.getByText('The sound was interrupted by a call, the lock screen or another app.').waitFor();
    const was = await heard(page);
    await nothingMore(page, was);
    await setVisibility(page, 'visible');
    await page.getByText(/listening, /).waitFor();
    await heardAtLeast(page, was + 1);
    expect(await page.locator('.message').count()).toBe(0);
    expect(errors).toEqual([]);
  });

  it('what settles while the page is out of sight counts, and is named on return', async () => {
    const { page, errors } = await underWay();
    await setVisibility(page, 'hidden');
    const was = await heard(page);
    await heardAtLeast(page, was + 1);
    await setVisibility(page, 'visible');
    await page
      .getByText(new RegExp(`While this page was out of sight, these spokes were heard and count: ${was + 1}[.,]`))
      .waitFor();
    expect(errors).toEqual([]);
  });

  it('a headset put on stops the ear before it can be heard through; off again, the round goes on where it stood', async () => {
    const { page, errors } = await underWay();
    await setHeadset(page, true, 16_000);
    await page.getByText('A microphone or headset (Headset) was put on or taken off').waitFor();
    await page.getByText('not listening').waitFor();
    const was = await heard(page);
    const place = await page.locator('.place').textContent();
    await nothingMore(page, was);
    await page.getByRole('button', { name: 'Listen again' }).click();
    await page.getByText('The microphone sends 16000 samples a second').waitFor();
    await page.getByText('not listening').waitFor();
    await setHeadset(page, false);
    await page.getByRole('button', { name: /Go on at spoke/ }).click();
    expect(await page.locator('.place').textContent()).toBe(place);
    await heardAtLeast(page, was + 1);
    expect(await page.locator('.message').count()).toBe(0);
    expect(errors).toEqual([]);
  });

  it('a microphone that is pulled out is told, and the next one goes on at the same spoke', async () => {
    const { page, errors } = await underWay();
    await onEar(page, 'end');
    await page.getByText('The microphone was taken away. The round stands as it is.').waitFor();
    const was = await heard(page);
    await nothingMore(page, was);
    await page.getByRole('button', { name: 'Listen again' }).click();
    await heardAtLeast(page, was + 1);
    expect(await page.locator('.message').count()).toBe(0);
    expect(errors).toEqual([]);
  });
});
