import { afterEach, describe, expect, it } from 'vitest';
import { findWebKit } from '../../tools/findWebKit.ts';
import { expectIntervals, expectTrueWords, spread } from './expectTrueWords.ts';
import { driverHand, ROUND_MS } from './hand.ts';
import { serveWithLiveHand } from './liveHand.ts';
import { livePlucks } from './livePlucks.ts';
import { DESK, PHONE } from './openPage.ts';
import { openWebKit } from './openWebKit.ts';
import { verdictsBefore } from './readVerdicts.ts';
import { describeByHand, MAXIMUM_N, testSpokes } from './testWheel.ts';
import { tooWide } from './tooWide.ts';

const TAKES = 3;
/** With a tension: sound torn by a busy machine may contradict the member, and then says so. */
const LEAST_ANSWERED = 0.9;

const webKit = findWebKit();
if (!webKit.ok) console.warn(`Not run in WebKitGTK: ${webKit.reason}.`);

const toClose: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of toClose.splice(0).reverse()) await close();
});

describe.skipIf(!webKit.ok)('a whole round in WebKitGTK, with a sound in place of its microphone', () => {
  it.each([
    ['a phone', PHONE, 12],
    ['a desk', DESK, 12],
  ])('at the size of %s, from an empty start to the verdict, which a reload keeps', async (_, size, spokeCount) => {
    if (!webKit.ok) return;
    const spokes = testSpokes(spokeCount);
    const plucks = livePlucks({ seed: 24, spokes, style: 'single', snrDb: 25 }, TAKES);
    const server = await serveWithLiveHand({ spokes: spokeCount, takes: TAKES }, plucks);
    toClose.push(server.close);
    const { page, close } = await openWebKit(webKit);
    toClose.push(close);
    const hand = driverHand(page);
    // The narrowest window that this browser's tool bar leaves is somewhat wider than a phone.
    await page.resize(size.width, size.height);
    await page.goTo(server.url);
    await describeByHand(hand, spokeCount);
    await hand.tap('Start listening');
    await hand.see('All heard', ROUND_MS);
    await hand.see(`${spokeCount} of ${spokeCount}`);
    await hand.see('The first spoke sounds as it did');
    await hand.tap('See the verdict');

    const verdicts = await verdictsBefore(hand, LEAST_ANSWERED * spokeCount);
    const answered = verdicts.filter(({ tensionN }) => Number.isFinite(tensionN));
    const window = await page.evaluate(() => `${innerWidth} × ${innerHeight}`);
    console.log(
      `WebKitGTK at ${window}: ${spread(answered, spokes)}, ends not described; ${verdicts.length - answered.length} without a figure`,
    );
    expect(verdicts.map(({ spoke }) => spoke)).toEqual(spokes.map((_, index) => index + 1));
    expectIntervals(answered, spokes);
    expectTrueWords(answered, spokes, { maximumN: MAXIMUM_N });
    // Spoke 6 is beyond the limit by more than any interval.
    const over = answered.filter(({ words }) => words.startsWith('over the limit')).map(({ spoke }) => spoke);
    expect(over).toEqual(answered.some(({ spoke }) => spoke === 6) ? [6] : []);
    expect(await page.evaluate(tooWide)).toEqual([]);
    expect(await page.evaluate(() => globalThis.liveHand?.problems)).toEqual([]);

    await hand.reload();
    expect(await verdictsBefore(hand, LEAST_ANSWERED * spokeCount)).toEqual(verdicts);
    expect(await page.evaluate(() => globalThis.liveHand?.problems)).toEqual([]);
  });
});
