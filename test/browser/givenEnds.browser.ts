import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { writeWheelFile } from '../../src/spokes/wheelFile.ts';
import { benchWheel } from '../ui/store/benchWheel.ts';
import { type OpenPage, openPage } from './openPage.ts';
import { readVerdicts } from './readVerdicts.ts';
import { SIMULATED_ENDS, SPOKE_COUNT, testSpokes } from './testWheel.ts';
import { writeRound } from './writeRound.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

/** What is left of the answer's uncertainty when the ends are given: length 0.5 mm, crossing 0.5 mm, mass 1 %, each about 1 % of tension. */
const WITHIN_PERCENT = 2;

describe('a round through the microphone on a wheel whose end stiffness is given', () => {
  it('reads every spoke within 2 % of the tension that its sound was made from', async () => {
    const spokes = testSpokes();
    const { path } = writeRound({ seed: 26, spokes, style: 'single', snrDb: 25 });
    const ends = { low: 0.9 * SIMULATED_ENDS.rimSpring, high: 1.1 * SIMULATED_ENDS.rimSpring };
    const file = join(mkdtempSync(join(tmpdir(), 'ringtrue-wheel-')), 'bench.json');
    writeFileSync(file, writeWheelFile(benchWheel(ends)));
    open = await openPage({ wav: path });
    const { page } = open;
    await page.locator('input[type=file]').setInputFiles(file);
    await page.getByRole('button', { name: 'Import', exact: true }).click();
    await page.getByRole('link', { name: /Bench wheel/ }).click();
    await page.getByRole('link', { name: 'Listen' }).click();
    await page.getByRole('button', { name: 'Start listening' }).click();
    await page.getByText('All heard').waitFor({ timeout: 120_000 });
    await page.getByRole('link', { name: 'See the verdict' }).click();
    const off = (await readVerdicts(page)).map(
      ({ tensionN }, index) => 100 * (tensionN / (spokes[index]?.tensionN ?? 0) - 1),
    );
    console.log(`tension on screen, ends given: ${Math.min(...off).toFixed(1)} to ${Math.max(...off).toFixed(1)} %`);
    expect(off).toHaveLength(SPOKE_COUNT);
    for (const percent of off) expect(Math.abs(percent)).toBeLessThan(WITHIN_PERCENT);
  });
});
