import { spawnSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { reportRows, unfold } from './evidenceHelp.ts';
import { goTo } from './hearDemo.ts';
import { DESK, type OpenPage, openPage } from './openPage.ts';

let open: OpenPage | undefined;
afterEach(async () => {
  await open?.close();
  open = undefined;
});

interface Printed {
  readonly rounds: readonly {
    readonly stored: { readonly reproduced: boolean; readonly compared: number };
    readonly heardAgain: {
      readonly compared: number;
      readonly medianDifferencePercent: number;
      readonly largestDifferencePercent: number;
      readonly recordings: readonly { readonly ok: boolean; readonly plucks: readonly { readonly ok: boolean }[] }[];
    };
  }[];
}

describe('an archive with its recordings', () => {
  it('goes back from the samples to the tensions at a desk, without the app', async () => {
    open = await openPage({ size: DESK });
    const { page } = open;
    await page.getByRole('button', { name: 'Understood' }).click();
    await goTo(page, '#/settings');
    await page.getByRole('group', { name: 'Keep a recording of each pluck' }).getByText('on', { exact: true }).click();
    await goTo(page, '#/');
    await page.getByRole('button', { name: /Demo: steel rear wheel/ }).click();
    await page.getByRole('button', { name: 'Hear the demo wheel' }).click();
    await page.getByText('All heard').waitFor({ timeout: 150_000 });
    await goTo(page, new URL(page.url()).hash.replace(/\/[^/]*$/, '/report'));
    expect(await reportRows(page)).toHaveLength(32);
    await unfold(page, /^Files/);
    const downloading = page.waitForEvent('download');
    await page.getByRole('button', { name: 'One archive of all' }).click();
    const archive = join(mkdtempSync(join(tmpdir(), 'ringtrue-archive-')), 'heard.zip');
    await (await downloading).saveAs(archive);

    const command = ['--import', 'tsx', 'src/desk/edge/main.ts', 'measure', archive, '--hear-again'];
    const measured = spawnSync(process.execPath, command, { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });
    expect(measured.stderr).toMatch(/heard again from 6\d recordings, 32 spokes/);
    expect(measured.status).toBe(0);
    const [round] = (JSON.parse(measured.stdout) as Printed).rounds;
    expect(round?.stored).toMatchObject({ reproduced: true, compared: 32 });
    // An excerpt ends where the ear had enough: the same tones come out, but for what lay beyond its ends.
    expect(round?.heardAgain.compared).toBe(32);
    expect(round?.heardAgain.medianDifferencePercent).toBeLessThan(0.1);
    expect(round?.heardAgain.largestDifferencePercent).toBeLessThan(1);
    for (const { ok, plucks } of round?.heardAgain.recordings ?? [])
      expect([ok, plucks.map((one) => one.ok)]).toEqual([true, [true]]);
  });
});
