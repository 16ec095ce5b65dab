import AxeBuilder from '@axe-core/playwright';
import { afterEach, describe, expect, it } from 'vitest';
import { uniformWheel } from '../signals/uniformWheel.ts';
import { type OpenPage, openPage } from './openPage.ts';
import { describeTestWheel, SUPPORT_LENGTH_MM } from './testWheel.ts';
import { writeRound } from './writeRound.ts';

const LOAD_N = 600;
/** Grips that hold firmly, N·m/rad. */
const GRIP = 60;
/** Two plucks of one spoke, as the app credits them; the simulated ones are alike. */
const TONE_RELATIVE = 0.002;

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** First tone of a clamped stiff string lies between these: hinged and clamped ends, f = (1/2L)·√(T/μ) times 1 to 1 + 2ε + 6ε². */
function firstToneBetween(): readonly [number, number] {
  const length = SUPPORT_LENGTH_MM / 1000;
  const massPerLength = 7900 * Math.PI * 0.001 ** 2;
  const bending = (193e9 * Math.PI * 0.001 ** 4) / 4;
  const ideal = Math.sqrt(LOAD_N / massPerLength) / (2 * length);
  // Fletcher, J. Acoust. Soc. Am. 36 (1964), 203: stiff strings with clamped ends (from memory)
  const epsilon = Math.sqrt(bending / LOAD_N) / length;
  return [ideal, ideal * (1 + 2 * epsilon + 6 * epsilon ** 2)];
}

describe('a spare spoke under a known load', () => {
  it('is heard through the microphone, settles by two plucks and is kept with its load', async () => {
    const spare = uniformWheel({
      seed: 7,
      spokeCount: 2,
      leftN: LOAD_N,
      rightN: LOAD_N,
      scatter: 0,
      supportLengthM: { left: SUPPORT_LENGTH_MM / 1000, right: SUPPORT_LENGTH_MM / 1000 },
      hubSpring: GRIP,
      rimSpring: GRIP,
    });
    const { path } = writeRound({ seed: 7, spokes: spare, style: 'single', snrDb: 25 });
    open = await openPage({ wav: path });
    const { page } = open;
    await describeTestWheel(page);
    await page.getByRole('link', { name: 'Describe' }).click();
    await page.locator('summary', { hasText: 'Known tensions' }).click();
    await page.getByText('a spare one').click();
    await page.getByLabel('Length between the supports').fill(`${SUPPORT_LENGTH_MM}`);
    await page.getByLabel('Its tension').fill(`${LOAD_N}`);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map((one) => one.id)).toEqual([]);
    await page.getByRole('button', { name: 'Hear the spoke' }).click();
    const settled = page.getByText(/plucks agree; lowest tone/);
    await settled.waitFor({ timeout: 30_000 });
    const hz = Number(/tone ([\d.]+)\sHz/.exec((await settled.textContent()) ?? '')?.[1]);
    const [least, most] = firstToneBetween();
    expect(hz).toBeGreaterThan(least * (1 - TONE_RELATIVE));
    expect(hz).toBeLessThan(most * (1 + TONE_RELATIVE));
    await page.getByRole('button', { name: 'Add this spoke' }).click();
    await page.getByText(/Spare spoke: 600\sN ± 1.0\s%, load cell/).waitFor();
    expect(open.errors).toEqual([]);
  });
});
