import type { Page } from 'playwright-core';

interface Watched {
  /** When the page asked for the microphone, and when it had it, ms of the page's clock. */
  asked?: number;
  opened?: number;
  /** When each number of settled spokes was first on screen. */
  readonly settled: Record<number, number>;
}
declare global {
  var watched: Watched | undefined;
}

/** Call before the app loads: notes when the microphone opens and when each settled spoke is on the screen. */
export async function watchRound(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const watched: Watched = { settled: {} };
    globalThis.watched = watched;
    const ask = navigator.mediaDevices?.getUserMedia.bind(navigator.mediaDevices);
    if (ask)
      navigator.mediaDevices.getUserMedia = async (constraints) => {
        watched.asked = performance.now();
        const stream = await ask(constraints);
        watched.opened = performance.now();
        return stream;
      };
    const look = () => {
      const count = Number(document.querySelector<HTMLProgressElement>('.progress progress')?.value ?? Number.NaN);
      if (Number.isFinite(count) && watched.settled[count] === undefined) watched.settled[count] = performance.now();
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
}

/**
 * Seconds from the pluck that settled each spoke to its showing on screen. The file begins to sound somewhere between asking for the microphone
 * and having it; the earlier moment is taken, which makes every figure too long rather than too short.
 */
export async function settledDelays(page: Page, settlingCuesS: readonly number[]): Promise<readonly number[]> {
  const watched = await page.evaluate(() => globalThis.watched);
  const start = watched?.asked;
  if (!watched || start === undefined) throw new Error('The page was not watched from its start.');
  return settlingCuesS.flatMap((cueS, index) => {
    const shown = watched.settled[index + 1];
    return shown === undefined ? [] : [(shown - start) / 1e3 - cueS];
  });
}
