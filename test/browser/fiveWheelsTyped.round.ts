import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { addNoise } from '../signals/noise.ts';
import { seededRandom } from '../signals/random.ts';
import { spokeModes } from '../signals/spokeModes.ts';
import { encodeWav } from '../signals/wav.ts';
import { expectIntervals, expectTrueWords, spread } from './expectTrueWords.ts';
import { benchedSpokes, expectThatItFits, FIVE_WHEELS, fillIn, pluckedAcross, pluckedAs } from './fiveWheels.ts';
import { playwrightHand } from './hand.ts';
import { DESK, type OpenPage, openPage } from './openPage.ts';
import { verdictsBefore } from './readVerdicts.ts';
import { tooWide } from './tooWide.ts';
import { MICROPHONE_RATE_HZ } from './writeRound.ts';

/** Of each pluck, as a tuner shows them. */
const TONES = 3;
const ROOM_S = 90;
/** −60 dB re full scale. */
const ROOM_POWER = 1e-6;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** A room in which nobody plucks. */
function quietRoom(): string {
  const samples = new Float64Array(ROOM_S * MICROPHONE_RATE_HZ);
  addNoise(samples, MICROPHONE_RATE_HZ, ROOM_POWER, 'pink', seededRandom('quiet room'));
  const path = join(mkdtempSync(join(tmpdir(), 'ringtrue-room-')), 'room.wav');
  writeFileSync(path, encodeWav([new Float32Array(samples)], MICROPHONE_RATE_HZ, 'int16'));
  return path;
}

describe('described by hand at a desk from an empty shelf, tones of four spokes typed from another instrument', () => {
  it.each(FIVE_WHEELS.map((wheel) => [wheel.name, wheel] as const))(
    '%s: form, round, verdict and report',
    async (_, wheel) => {
      open = await openPage({ size: DESK, wav: quietRoom() });
      const { page, errors } = open;
      const hand = playwrightHand(page);
      const shown = await fillIn(hand, wheel);
      await expectThatItFits(hand, wheel, shown);
      await hand.tap('Save and listen');
      await hand.see('Start listening');
      const steps = await page.locator('.steps li').allInnerTexts();
      await hand.tap('Start listening');
      await hand.tap('More');

      const spokes = benchedSpokes(wheel, shown);
      for (const [i, spoke] of spokes.entries()) {
        const plucked = pluckedAs(steps, spoke.side) === 'across the wheel' ? pluckedAcross(spoke) : spoke;
        const family = spoke.crossingFromHubM === undefined ? 'whole' : 'segment';
        const tones = spokeModes(plucked, 'inPlane', 3 * TONES)
          .modes.filter((mode) => mode.family === family)
          .slice(0, TONES)
          .map(({ frequencyHz }) => frequencyHz.toFixed(1));
        for (let pluck = 0; pluck < 2; pluck++) {
          await hand.fill(`Tones of spoke ${i + 1}, in hertz`, tones.join(' '));
          await hand.tap('Take these tones');
        }
      }
      await hand.tap('End the round as it stands');
      await hand.tap('See the verdict');
      const count = spokes.length;
      const verdicts = (await verdictsBefore(hand, count)).filter(({ tensionN }) => Number.isFinite(tensionN));
      console.log(`${wheel.name}, typed: ${spread(verdicts, spokes)}`);
      expect(verdicts.map(({ spoke }) => spoke)).toEqual(spokes.map((_spoke, index) => index + 1));
      expectIntervals(verdicts, spokes);
      expectTrueWords(verdicts, spokes, { maximumN: wheel.maximumN });

      await hand.tap('Report');
      await hand.see('One spoke to follow with a calculator');
      expect(await page.evaluate(tooWide)).toEqual([]);
      expect(errors).toEqual([]);
    },
  );
});
