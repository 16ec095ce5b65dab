import type { TensionUnit } from '../units.ts';
import { parseFigure } from './parseFigure.ts';
import { readTable, type TableProblem } from './readTable.ts';
import type { Side } from './wheel.ts';

export interface SheetTable {
  readonly ok: boolean;
  readonly left: readonly number[];
  readonly right: readonly number[];
  readonly decimals: number;
  readonly unit?: TensionUnit;
  readonly problems: readonly {
    readonly line: number;
    readonly reason: TableProblem['reason'] | 'noSides';
    readonly detail: string;
  }[];
}

const SIDE_WORDS: readonly (readonly [RegExp, Side])[] = [
  [/^(l|left|links|gauche|nds|ndr|non.?drive.*)$/i, 'left'],
  [/^(r|right|rechts|droite?|ds|dr|drive.*)$/i, 'right'],
];
const sideIn = (cell: string): Side | undefined => SIDE_WORDS.find(([word]) => word.test(cell.trim()))?.[1];
const unitIn = (text: string): TensionUnit | undefined =>
  /\bkgf?\b/i.test(text) ? 'kgf' : /\blb[fs]?\b/i.test(text) ? 'lbf' : /\bN\b/.test(text) ? 'N' : undefined;

/**
 * Somebody's table by side: columns headed left and right, or rows that name their side. In rows the last figure is the tension, those
 * before it are numbers of places.
 */
export function readSheet(text: string): SheetTable {
  const table = readTable(text);
  const problems: SheetTable['problems'][number][] = [...table.problems];
  const values: Record<Side, number[]> = { left: [], right: [] };
  let decimals = 0;
  const take = (side: Side, cell: string, line: number) => {
    const bare = cell.replace(/\s*(kgf|kg|lbf|lbs?|N)$/i, '').trim();
    if (bare === '') return;
    const value = parseFigure(bare, table.decimal);
    if (value === undefined) problems.push({ line, reason: 'notAFigure', detail: cell.slice(0, 40) });
    else {
      values[side].push(value);
      decimals = Math.max(decimals, /[.,](\d+)/.exec(bare)?.[1]?.length ?? 0);
    }
  };
  const columns = (table.head?.cells ?? []).map((cell) => sideIn(cell.replace(/\(.*\)|\[.*\]/g, '').trim()));
  if (columns.includes('left') && columns.includes('right')) {
    for (const { line, cells } of table.rows)
      for (const [i, side] of columns.entries()) if (side) take(side, cells[i] ?? '', line);
  } else {
    for (const { line, cells } of table.rows) {
      const side = cells.map(sideIn).find((one) => one !== undefined);
      const figure = cells.findLast((cell) => /\d/.test(cell));
      if (side === undefined) problems.push({ line, reason: 'noSides', detail: cells.join(' ').slice(0, 40) });
      else if (figure !== undefined) take(side, figure, line);
    }
  }
  const unit = unitIn(text);
  return { ok: problems.length === 0, ...values, decimals, ...(unit ? { unit } : {}), problems: problems.slice(0, 50) };
}
