import { afterEach, describe, expect, it } from 'vitest';
import { expectIntervals, expectTrueWords, spread } from './expectTrueWords.ts';
import { benchedSpokes, expectThatItFits, FIVE_WHEELS, fillIn, pluckedAcross, pluckedAs } from './fiveWheels.ts';
import { playwrightHand, ROUND_MS } from './hand.ts';
import { bringLiveHand } from './liveHand.ts';
import { type LivePlucks, livePlucks } from './livePlucks.ts';
import { type OpenPage, openPage, PHONE } from './openPage.ts';
import { verdictsBefore } from './readVerdicts.ts';
import { tooWide } from './tooWide.ts';

const TAKES = 3;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

describe('described by hand on a phone from an empty shelf, four spokes heard', () => {
  it.each(FIVE_WHEELS.map((wheel) => [wheel.name, wheel] as const))(
    '%s: form, round, verdict and report',
    async (_, wheel) => {
      let plucks: LivePlucks | undefined;
      const sounds = () => {
        if (!plucks) throw new Error('The microphone was asked for before the wheel was described.');
        return plucks;
      };
      const count = wheel.sides.length;
      open = await openPage({
        size: PHONE,
        before: (page) => bringLiveHand(page, { spokes: count, takes: TAKES }, sounds),
      });
      const { page, errors } = open;
      const hand = playwrightHand(page);
      const shown = await fillIn(hand, wheel);
      await expectThatItFits(hand, wheel, shown);
      await hand.tap('Save and listen');

      await hand.see('Start listening');
      const steps = await page.locator('.steps li').allInnerTexts();
      const spokes = benchedSpokes(wheel, shown);
      const asPlucked = spokes.map((spoke) =>
        pluckedAs(steps, spoke.side) === 'across the wheel' ? pluckedAcross(spoke) : spoke,
      );
      plucks = livePlucks({ seed: wheel.name, spokes: asPlucked, style: 'single', snrDb: 25 }, TAKES);
      await hand.tap('Start listening');
      await hand.until(
        'four settled spokes',
        () => document.querySelector<HTMLProgressElement>('.progress progress')?.value === 4,
        ROUND_MS,
      );
      const asked = await page.evaluate(() => globalThis.liveHand?.plucked.length);

      await hand.tap('More');
      await hand.tap('End the round as it stands');
      await hand.tap('See the verdict');
      const verdicts = (await verdictsBefore(hand, count)).filter(({ tensionN }) => Number.isFinite(tensionN));
      console.log(
        `${wheel.name}: ${asked} plucks, left ${pluckedAs(steps, 'left')}, right ${pluckedAs(steps, 'right')}; ` +
          `${verdicts.map((one) => `${one.spoke} ${one.tensionN} ± ${one.plusMinusN} (true ${spokes[one.spoke - 1]?.tensionN.toFixed(0)}) ${one.words}`).join('; ')}; ${spread(verdicts, spokes)}`,
      );
      expect(verdicts.map(({ spoke }) => spoke)).toEqual(wheel.sides.map((_, index) => index + 1));
      expectIntervals(verdicts, spokes);
      expectTrueWords(verdicts, spokes, { maximumN: wheel.maximumN });

      await hand.tap('Report');
      await hand.see('Every spoke');
      await hand.see('One spoke to follow with a calculator');
      expect(await page.evaluate(tooWide)).toEqual([]);
      expect(errors).toEqual([]);
    },
  );
});
