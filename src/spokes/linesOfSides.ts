import { figureCell } from './figureCell.ts';
import { type DecimalSign, parseFigure } from './parseFigure.ts';
import type { TableRow } from './readTable.ts';
import { sheetColumns } from './sheetColumns.ts';
import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

/** Fewer figures behind a side may be one spoke's number, tension and tones. */
const FEWEST = 4;
/** `Drive side: 104`, where the cells are divided by commas. */
const LABELLED = /^(\D+)[:=]\s*(\d.*)$/;

/**
 * A table that gives each side on one line, or on the line below its name: turned into a line a spoke under the side's name. A line that
 * counts the spokes is left out.
 *
 * @returns undefined where a side has more lines than one, or too few figures on it, or a head tells its figures apart: then they are not its
 * spokes.
 */
export function linesOfSides(rows: readonly TableRow[], decimal: DecimalSign): readonly TableRow[] | undefined {
  const isFigure = (cell: string) => parseFigure(figureCell(cell).figure, decimal) !== undefined;
  const out: TableRow[] = [];
  const seen = new Set<Side>();
  let above: Side | undefined;
  for (const { line, cells } of rows) {
    const parts = cells.flatMap((cell) => LABELLED.exec(cell)?.slice(1) ?? [cell]).filter((cell) => cell.trim() !== '');
    const from = parts.findIndex(isFigure);
    const label = (from < 0 ? parts : parts.slice(0, from)).join(' ');
    const named = sideIn(label)?.side;
    if (from < 0) {
      if (sheetColumns(parts).some(({ holds }) => holds === 'tone' || holds === 'side' || holds === 'place'))
        return undefined;
      if (parts.length > 0) out.push({ line, cells: [label] });
      above = named ?? above;
      continue;
    }
    const figures = parts.slice(from);
    const side = named ?? (label === '' ? above : undefined);
    if (side === undefined && figures.length >= FEWEST && counts(figures)) continue;
    if (side === undefined || seen.has(side) || figures.length < FEWEST) return undefined;
    seen.add(side);
    if (label !== '') out.push({ line, cells: [label] });
    out.push(...figures.map((cell) => ({ line, cells: [cell] })));
  }
  return seen.size > 0 ? out : undefined;
}

/** One, two, three and so on. */
const counts = (cells: readonly string[]): boolean => cells.every((cell, i) => cell.trim() === `${i + 1}`);
