import { describe, expect, it } from 'vitest';
import { openPage } from './openPage.ts';
import { describeTestWheel, testSpokes } from './testWheel.ts';
import { writeRound } from './writeRound.ts';

describe('a whole round through the microphone of the built app', () => {
  it('from an empty start to the verdict', async () => {
    const wav = writeRound({ seed: 24, spokes: testSpokes(), style: 'single', snrDb: 25 });
    const { page, errors, close } = await openPage({ wav });
    try {
      await describeTestWheel(page);
      await page.getByRole('button', { name: 'Start listening' }).click();
      await page.getByText('All heard').waitFor({ timeout: 120_000 });
      expect(errors).toEqual([]);
    } finally {
      await page.screenshot({ path: '/tmp/last.png' });
      console.log(await page.locator('main').last().innerText());
      await close();
    }
  });
});
