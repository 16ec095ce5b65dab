import { figureCell } from './figureCell.ts';
import { type DecimalSign, parseFigure } from './parseFigure.ts';
import type { TableRow } from './readTable.ts';
import { type SheetColumn, sheetColumns } from './sheetColumns.ts';
import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

/** No wheel has more. */
const MOST_SPOKES = 144;

/** Behind the cell that names the side, or before it where nothing stands behind. */
export function figuresBeside(cells: readonly string[], at: number): readonly string[] {
  const behind = cells.slice(at + 1).filter((cell) => /\d/.test(cell));
  return behind.length > 0 ? behind : cells.slice(0, at).filter((cell) => /\d/.test(cell));
}

/** Whether the first figures beside the sides count the spokes: whole, rising on each side, from the wheel's first places on. */
export function firstFiguresCount(rows: readonly TableRow[], decimal: DecimalSign): boolean {
  const last = new Map<Side, number>();
  let least = Number.POSITIVE_INFINITY;
  for (const { cells } of rows) {
    const at = cells.findIndex((cell) => parseFigure(cell, decimal) === undefined && sideIn(cell) !== undefined);
    const side = at < 0 ? undefined : sideIn(cells[at] ?? '')?.side;
    const figures = at < 0 ? cells.filter((cell) => /\d/.test(cell)) : figuresBeside(cells, at);
    if (figures.length === 0) continue;
    const value = parseFigure(figures[0] ?? '', decimal);
    const key = side ?? 'left';
    if (value === undefined || !Number.isInteger(value) || value > MOST_SPOKES || value <= (last.get(key) ?? -1))
      return false;
    last.set(key, value);
    least = Math.min(least, value);
  }
  return least <= 2;
}

/** The lines above the first figure: titles, a head that names columns, a line that names the side of what follows. */
export function sheetHead(
  rows: readonly TableRow[],
  decimal: DecimalSign,
): {
  readonly head?: TableRow;
  readonly columns: readonly SheetColumn[];
  readonly side?: Side;
  readonly body: readonly TableRow[];
  /** Lines above the head. */
  readonly titles: readonly TableRow[];
  /** Lines between head and body that hold digits: perhaps spokes, and not readable as such. */
  readonly stray: readonly TableRow[];
} {
  const from = rows.findIndex((row) => row.cells.some((cell) => /\d/.test(cell) && isData(cell, decimal)));
  const above = from < 0 ? rows : rows.slice(0, from);
  let head: TableRow | undefined;
  let columns: readonly SheetColumn[] = [];
  let side: Side | undefined;
  for (const next of above) {
    const row = head ? twoLines(head, next) : next;
    const read = sheetColumns(row.cells);
    // A word alone may name a side that the line does not: the disc of `Disc wheel`.
    const whole = sideIn(row.cells.join(' '))?.side;
    const named = new Set(read.flatMap((one) => one.side ?? []));
    const sides = named.size === 1 && whole === undefined ? new Set<Side>() : named;
    if (sides.size === 2 || read.some((one) => one.holds !== 'other' && !one.side)) {
      head = row;
      columns = sides.size === 2 ? read : read.map(({ side: _, ...one }) => one);
    } else if (sides.size === 1) {
      if (head === undefined) {
        head = row;
        columns = read.map(({ side: _, ...one }) => one);
      }
    }
    if (sides.size === 1) [side] = sides;
  }
  const body = from < 0 ? [] : rows.slice(from);
  // Of a text without any figure every line with a digit; otherwise those below the head.
  const fromLine = from < 0 ? 0 : (head?.line ?? Number.POSITIVE_INFINITY);
  const stray = above.filter((row) => row.line > fromLine && row.cells.some((cell) => /\d/.test(cell)));
  const titles = above.filter((row) => row.line < (head?.line ?? 0));
  return { ...(head ? { head } : {}), columns, ...(side ? { side } : {}), body, titles, stray };
}

/** A head over two lines, such as sides above and units below: each column's words together. Any other line stays what it is. */
function twoLines(upper: TableRow, lower: TableRow): TableRow {
  const heads = sheetColumns(lower.cells).some((one) => one.holds !== 'other');
  if (!heads || lower.cells.length !== upper.cells.length || lower.cells.length < 2 || lower.cells.some(hasDigit))
    return lower;
  return {
    line: upper.line,
    cells: upper.cells.map((cell, i) => [lower.cells[i], cell].filter(Boolean).join(' ')),
  };
}

const hasDigit = (cell: string): boolean => /\d/.test(cell);

const isData = (cell: string, decimal: DecimalSign): boolean =>
  parseFigure(figureCell(cell).figure, decimal) !== undefined || sideIn(cell) !== undefined;
