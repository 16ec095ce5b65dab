import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';
import { describeTestWheel, SPOKE_COUNT, testSpokes } from './testWheel.ts';
import { settledDelays, watchRound } from './watchRound.ts';
import { writeRound } from './writeRound.ts';

/** The second pluck to the settled spoke on the screen. */
const SETTLED_WITHIN_S = 0.9;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

describe('a whole round through the microphone of the built app', () => {
  it('from an empty start to the verdict, without a touch in between', async () => {
    const { path, cues } = writeRound({ seed: 24, spokes: testSpokes(), style: 'single', snrDb: 25 });
    open = await openPage({ wav: path, before: watchRound });
    const { page, errors } = open;
    await describeTestWheel(page);
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText('All heard').waitFor({ timeout: 120_000 });
    await page.getByText(`${SPOKE_COUNT} of ${SPOKE_COUNT}`).waitFor();
    await page.getByText(/The first spoke sounds as it did/).waitFor();

    const settling = cues.filter((_, index) => index % 2 === 1).map((cue) => cue.timeS);
    const delays = await settledDelays(page, settling.slice(0, SPOKE_COUNT));
    console.log(
      `second pluck to settled on screen: median ${median(delays).toFixed(2)} s, longest ${Math.max(...delays).toFixed(2)} s (${delays.length} spokes)`,
    );
    expect(delays).toHaveLength(SPOKE_COUNT);
    expect(median(delays)).toBeLessThanOrEqual(SETTLED_WITHIN_S);
    expect(errors).toEqual([]);
  });
});
