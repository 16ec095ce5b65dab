import type { Page } from 'playwright-core';
import { type Hand, playwrightHand } from './hand.ts';

/** For tensions to come on a machine that is busy; no test passes by it. */
const LOOKS = 60;
const LOOK_MS = 1000;

export interface Verdict {
  readonly spoke: number;
  readonly tensionN: number;
  readonly plusMinusN: number;
  readonly words: string;
}

/** Reads the table of all spokes once every row has its tension. */
export const readVerdicts = (page: Page): Promise<readonly Verdict[]> => verdictsBefore(playwrightHand(page));

/**
 * The same in any browser.
 *
 * @param atLeast so many rows with a tension are enough; the others say why they have none, and their figures are NaN
 */
export async function verdictsBefore(hand: Hand, atLeast?: number): Promise<readonly Verdict[]> {
  let seen = '';
  for (let i = 0; i < LOOKS; i++) {
    const verdicts = await look(hand);
    const answered = verdicts.filter(({ tensionN }) => Number.isFinite(tensionN)).length;
    // The last pluck's measurement may still be on its way: what stands there must stand a while.
    const steady = JSON.stringify(verdicts) === seen;
    seen = JSON.stringify(verdicts);
    if (steady && verdicts.length > 0 && answered >= (atLeast ?? verdicts.length)) return verdicts;
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
  }
  throw new Error(`No tension in ${atLeast === undefined ? 'some row' : 'too many rows'}. The table: ${seen}`);
}

async function look(hand: Hand): Promise<readonly Verdict[]> {
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
