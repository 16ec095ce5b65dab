import { afterEach, describe, expect, it } from 'vitest';
import { type OpenPage, openPage } from './openPage.ts';
import { readVerdicts, type Verdict } from './readVerdicts.ts';
import { describeTestWheel, OFF, SPOKE_COUNT, testSpokes } from './testWheel.ts';
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

/** Each spoke stands with its own tone, and only those that are off are flagged. */
function expectTrueVerdicts(verdicts: readonly Verdict[]): void {
  const spokes = testSpokes();
  const off = verdicts.map(({ tensionN }, index) => 100 * (tensionN / (spokes[index]?.tensionN ?? 0) - 1));
  console.log(
    `tension on screen against the signal's, ends not described: ${Math.min(...off).toFixed(1)} to ${Math.max(...off).toFixed(1)} %`,
  );
  expect(verdicts).toHaveLength(SPOKE_COUNT);
  for (const [index, { tensionN, plusMinusN }] of verdicts.entries())
    expect(Math.abs(tensionN - (spokes[index]?.tensionN ?? 0))).toBeLessThan(plusMinusN);
  const flagged = verdicts.filter(({ words }) => /over the limit|under the limit|tight|slack/.test(words));
  expect(flagged.map(({ spoke }) => spoke)).toEqual(Object.keys(OFF).map(Number));
  expect(flagged.map(({ words }) => /over the limit/.test(words))).toEqual([true, false, false]);
}

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

    await page.getByRole('link', { name: 'See the verdict' }).click();
    const verdicts = await readVerdicts(page);
    expectTrueVerdicts(verdicts);

    await page.reload();
    expect(await readVerdicts(page)).toEqual(verdicts);
    expect(errors).toEqual([]);
  });
});
