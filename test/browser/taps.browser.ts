import type { Page } from 'playwright-core';
import { afterEach, describe, expect, it } from 'vitest';
import { round } from '../signals/catalogue.ts';
import { type BenchedWheel, benchedSpokes, type ShownLengths } from './fiveWheels.ts';
import { type Hand, playwrightHand } from './hand.ts';
import { bringLiveHand } from './liveHand.ts';
import { type LivePlucks, livePlucks } from './livePlucks.ts';
import { type OpenPage, openPage } from './openPage.ts';
import { verdictsBefore } from './readVerdicts.ts';
import { testSpokes } from './testWheel.ts';

const MOST = { described: { taps: 12, fields: 8 }, evenness: { taps: 4, fields: 2 } } as const;
const TAKES = 3;
const PLUCKS_MS = 60_000;

/** A wheel that is like a starting point only in count, crosses and nipples: everything else is as it is measured. */
const REAR: BenchedWheel = {
  name: 'rear 32',
  start: 'Rear, 32 steel spokes, 3-cross',
  fields: {},
  hubAndRim: {
    'Effective rim diameter': '594',
    'Spoke circle, left': '44',
    'Spoke circle, right': '48',
    'Centre to flange, left': '35',
    'Centre to flange, right': '18.5',
  },
  kind: 'plain2.0',
  wire: (l) => [round(2, 'steel', l)],
  headM: 0.009,
  nippleM: 0.008,
  nippleMaterial: 'brass',
  tensionN: { left: 600, right: 1050 },
  maximumN: 1200,
  sides: ['left', 'right', 'left', 'right'],
};

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

interface Counted {
  taps: number;
  readonly fields: string[];
}

/** Runs in the page before the app: counts what a person does. A list takes two taps, to open it and to choose; a field that is typed into is counted as one. */
function countHand(): void {
  const counted: Counted = { taps: 0, fields: [] };
  Object.assign(globalThis, { counted });
  const at = (event: Event) => event.target as HTMLElement;
  addEventListener('pointerdown', (event) => void (at(event).matches('input[type="text"]') || counted.taps++), true);
  addEventListener(
    'change',
    (event) => {
      if (at(event).matches('select')) counted.taps += 2;
    },
    true,
  );
  addEventListener(
    'input',
    (event) => {
      const { id } = at(event);
      if (at(event).matches('input[type="text"]') && !counted.fields.includes(id)) counted.fields.push(id);
    },
    true,
  );
}
const counted = (page: Page) => page.evaluate(() => (globalThis as unknown as { counted: Counted }).counted);

/** From a cold start, with a hand that plucks what the screen asks for. */
async function coldStart(spokes: number, plucks: () => LivePlucks): Promise<{ page: Page; hand: Hand }> {
  open = await openPage({
    before: async (page) => {
      await bringLiveHand(page, { spokes, takes: TAKES }, plucks);
      await page.addInitScript(countHand);
    },
  });
  return { page: open.page, hand: playwrightHand(open.page) };
}
/** Runs in the page: what the form computed, as its drawings of the spokes say it, mm. */
const drawnLengths = (): readonly ShownLengths[] =>
  [...document.querySelectorAll('.drawn-narrow svg')].map((drawing) => {
    const words = [...drawing.querySelectorAll('text')].map(({ textContent }) => textContent ?? '');
    const figure = (ending: RegExp) => Number.parseFloat(words.find((one) => ending.test(one)) ?? '');
    return { support: figure(/\smm$/), free: figure(/\sfree$/) };
  });
const firstSettled = (hand: Hand) =>
  hand.until(
    'a settled spoke',
    () => (document.querySelector<HTMLProgressElement>('.progress progress')?.value ?? 0) >= 1,
    PLUCKS_MS,
  );

describe('from a cold start to the first settled spoke', () => {
  it(`a new wheel, described with hub, rim, spoke kind and limit with its source: at most ${MOST.described.taps} taps and ${MOST.described.fields} typed fields`, async () => {
    let plucks: LivePlucks | undefined;
    const sounds = () => {
      if (!plucks) throw new Error('The microphone was asked for before the wheel was described.');
      return plucks;
    };
    const { page, hand } = await coldStart(REAR.sides.length, sounds);
    await hand.tap('Understood');
    await hand.tap('New wheel');
    await hand.tap(REAR.start.replace('3-cross', '3\u2011cross'));
    await hand.unfold('Hub and rim');
    for (const [label, value] of Object.entries(REAR.hubAndRim)) await hand.fill(label, value);
    await hand.unfold('Spokes');
    for (const side of ['left', 'right']) await hand.choose(`Spoke, ${side}`, 'plain 2.0');
    await hand.unfold('Limits and target');
    for (const side of ['left', 'right']) await hand.fill(`Maximum, ${side}`, `${REAR.maximumN}`);
    await hand.fill('Where the figures come from', 'the rim’s label');
    const [left, right] = await page.evaluate(drawnLengths);
    if (!left || !right) throw new Error('The spokes are not drawn.');
    const spokes = benchedSpokes(REAR, { left, right });
    plucks = livePlucks({ seed: 'taps', spokes, style: 'single', snrDb: 25 }, TAKES);
    await hand.tap('Save and listen');
    await hand.tap('Start listening');
    await firstSettled(hand);
    const { taps, fields } = await counted(page);
    console.log(`described: ${taps} taps, ${fields.length} typed fields`);
    expect(taps).toBeLessThanOrEqual(MOST.described.taps);
    expect(fields.length).toBeLessThanOrEqual(MOST.described.fields);
    // And it is that spoke's own tension.
    await page.locator('.of-spoke').first().waitFor({ timeout: PLUCKS_MS });
    await hand.tap('Pause');
    await hand.tap('Judge');
    const [first] = await verdictsBefore(hand, 1);
    console.log(`spoke 1: ${first?.tensionN} ± ${first?.plusMinusN} N, true ${spokes[0]?.tensionN.toFixed(0)} N`);
    expect(Math.abs((first?.tensionN ?? Number.NaN) - (spokes[0]?.tensionN ?? Number.NaN))).toBeLessThanOrEqual(
      first?.plusMinusN ?? 0,
    );
    expect(open?.errors).toEqual([]);
  });

  it(`evenness only: at most ${MOST.evenness.taps} taps and ${MOST.evenness.fields} fields, the cautions in sight`, async () => {
    const count = 12;
    const { page, hand } = await coldStart(count, () =>
      livePlucks({ seed: 'even', spokes: testSpokes(count), style: 'single', snrDb: 25 }, TAKES),
    );
    await hand.see('Wear eye protection');
    await hand.tap('New wheel');
    await hand.tap('Evenness only');
    await hand.fill('Spokes', `${count}`);
    await hand.tap('Save and listen');
    await hand.see('Wear eye protection');
    await hand.tap('Start listening');
    await firstSettled(hand);
    const { taps, fields } = await counted(page);
    console.log(`evenness only: ${taps} taps, ${fields.length} typed fields`);
    expect(taps).toBeLessThanOrEqual(MOST.evenness.taps);
    expect(fields.length).toBeLessThanOrEqual(MOST.evenness.fields);
    expect(open?.errors).toEqual([]);
  });
});
