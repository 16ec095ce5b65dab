import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';
import { describeTestWheel, testSpokes } from './testWheel.ts';
import { writeRound } from './writeRound.ts';

/** A small wheel: the hand's time is real time. */
const COUNT = 16;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

describe('a hand that slips', () => {
  it('plucks once too often at one spoke and passes another over: the app says so and closes nothing silently', async () => {
    const { path, cues } = writeRound({
      seed: 7,
      spokes: testSpokes(COUNT),
      style: 'single',
      snrDb: 25,
      extraPluckAt: [3],
      missedPluckAt: [10],
    });
    open = await openPage({ wav: path });
    const { page, errors } = open;
    await describeTestWheel(page, COUNT);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.waitForTimeout(((cues.at(-1)?.timeS ?? 0) + 3) * 1e3);
    // The hand is through; the walk still wants a spoke, so nothing was closed over the slip.
    expect(await page.getByText('All heard').count()).toBe(0);
    await page
      .getByText(/Once more spoke 1|Spoke \d+, (left|right)/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Pause' }).click();
    await page.getByRole('link', { name: 'Judge' }).click();
    await page.getByText(/At spoke 4 a pluck sounded like the spoke before/).waitFor({ timeout: 15_000 });
    await page
      .getByText(/was not heard once more|a place was slipped there/)
      .first()
      .waitFor();
    expect(errors).toEqual([]);
  });
});
