import type { Page } from 'playwright-core';

export interface Verdict {
  readonly spoke: number;
  readonly tensionN: number;
  readonly plusMinusN: number;
  readonly words: string;
}

/** Reads the table of all spokes once every row has its tension. */
export async function readVerdicts(page: Page): Promise<readonly Verdict[]> {
  const table = page.getByRole('region', { name: 'All spokes' });
  await table.waitFor();
  await page.waitForFunction(() => {
    const rows = [...document.querySelectorAll('[aria-label="All spokes"] tbody tr')];
    return rows.length > 0 && rows.every((row) => /\d+ ± \d+/.test(row.textContent ?? ''));
  });
  const rows = await table.getByRole('row').all();
  const verdicts: Verdict[] = [];
  for (const row of rows) {
    const cells = (await row.getByRole('cell').allTextContents()).map((text) => text.trim());
    const [spoke] = await row.getByRole('rowheader').allTextContents();
    const figure = /([\d.]+) ± ([\d.]+)/.exec(cells[1] ?? '');
    if (spoke && figure)
      verdicts.push({
        spoke: Number(spoke),
        tensionN: Number(figure[1]),
        plusMinusN: Number(figure[2]),
        words: cells.at(-1) ?? '',
      });
  }
  return verdicts;
}
