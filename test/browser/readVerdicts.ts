import type { Page } from 'playwright-core';
import { type Hand, playwrightHand } from './hand.ts';

export interface Verdict {
  readonly spoke: number;
  readonly tensionN: number;
  readonly plusMinusN: number;
  readonly words: string;
}

/** Reads the table of all spokes once every row has its tension. */
export const readVerdicts = (page: Page): Promise<readonly Verdict[]> => verdictsBefore(playwrightHand(page));

/** The same in any browser. */
export async function verdictsBefore(hand: Hand): Promise<readonly Verdict[]> {
  await hand.until('a tension in every row', () => {
    const rows = [...document.querySelectorAll('[aria-label="All spokes"] tbody tr')];
    return rows.length > 0 && rows.every((row) => /\d+ ± \d+/.test(row.querySelector('td')?.textContent ?? ''));
  });
  // In one go: the table is written anew whenever a measurement comes in.
  const rows = await hand.evaluate(() =>
    [...document.querySelectorAll('[aria-label="All spokes"] tbody tr')].map((row) => ({
      name: row.querySelector('button')?.textContent ?? '',
      cells: [...row.querySelectorAll('td')].map((cell) => cell.textContent ?? ''),
    })),
  );
  return rows.map(({ name, cells }) => {
    const [, tension, plusMinus] = /(\d+) ± (\d+)/.exec(cells[0] ?? '') ?? [];
    return {
      spoke: Number(name),
      tensionN: Number(tension),
      plusMinusN: Number(plusMinus),
      words: cells.at(-1)?.trim() ?? '',
    };
  });
}
