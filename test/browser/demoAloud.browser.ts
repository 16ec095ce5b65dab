import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

declare global {
  /** Peak of every piece of sound that was handed to a loudspeaker. */
  var playedPeaks: number[] | undefined;
}

/** A pluck's loudest piece, full scale 1; feedback tones are made by oscillators, not played from buffers. */
const LOUD = 0.02;

describe('the demo wheel', () => {
  it('is heard aloud with one tap after it was chosen, and again after a pause', async () => {
    open = await openPage({
      before: async (page) => {
        await page.addInitScript(() => {
          const peaks: number[] = [];
          globalThis.playedPeaks = peaks;
          const start = AudioBufferSourceNode.prototype.start;
          AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, ...when) {
            const samples = this.buffer?.getChannelData(0) ?? new Float32Array();
            peaks.push(samples.reduce((most, one) => Math.max(most, Math.abs(one)), 0));
            return start.apply(this, when);
          };
        });
      },
    });
    const { page, errors } = open;
    const loud = () =>
      page.evaluate((least) => (globalThis.playedPeaks ?? []).filter((peak) => peak > least).length, LOUD);
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Play the demo aloud' }).click();
    await page.getByText(/\b[1-9] of 32/).waitFor({ timeout: 30_000 });
    const before = await loud();
    expect(before).toBeGreaterThan(0);
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByRole('button', { name: /^Go on at spoke/ }).click();
    await page.waitForFunction(
      ([from, least]) => (globalThis.playedPeaks ?? []).filter((peak) => peak > least).length > from,
      [await loud(), LOUD] as const,
      { timeout: 30_000 },
    );
    expect(errors).toEqual([]);
  });
});
