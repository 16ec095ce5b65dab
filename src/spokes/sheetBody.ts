import { type Gathered, notePlace, noteProblem, noteUnit, type SheetCell, takeSpoke } from './gatherSheet.ts';
import { parseFigure } from './parseFigure.ts';
import type { TableRow } from './readTable.ts';
import type { SheetColumn } from './sheetColumns.ts';
import { figuresBeside, firstFiguresCount } from './sheetHead.ts';
import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

const SUMMARY =
  /^\W*(mean|average|avg|mittel(wert)?|moyenne|media|st\.?\s?dev\.?|std\.?|sd|standard deviation|range|min(imum)?|max(imum)?|total|sum|median|spread|ratio)\b/i;

interface Body {
  readonly head?: TableRow;
  readonly columns: readonly SheetColumn[];
  /** Of the rows that name none, until a line names another. */
  readonly side?: Side;
  readonly body: readonly TableRow[];
}
/** A cell that names the side of its row. */
type NamedSide = NonNullable<ReturnType<typeof sideIn>> & { readonly i: number };

/**
 * Reads the lines below the head, each as the first that it can be: a row of means, a line of words below columns of sides, a row of such columns,
 * a line that names the side of what follows, a spoke.
 *
 * @returns the lines of words, which are not read
 */
export function readBody(gathered: Gathered, { head, columns, side: headed, body }: Body): readonly TableRow[] {
  const sided = columns.some((column) => column.side !== undefined && holds(column) !== undefined);
  const counted = firstFiguresCount(body, gathered.decimal);
  const notes: TableRow[] = [];
  let current = headed;
  for (const row of body) {
    const { line, cells } = row;
    if (SUMMARY.test(labelOf(row))) {
      noteProblem(gathered, line, 'summaryRow', cells.filter(Boolean).join(' '));
      continue;
    }
    if (head && cells.slice(head.cells.length).some((cell) => cell.trim() !== ''))
      noteProblem(gathered, line, 'raggedRow', `${cells.length} > ${head.cells.length}`);
    if (sided) {
      if (isWords(row)) notes.push(row);
      else takeSides(gathered, columns, row);
      continue;
    }
    const own = namedSide(gathered, row);
    if (own && namesWhatFollows(own, row)) {
      noteUnit(gathered, cells.join(' '), line);
      current = own.side;
      continue;
    }
    const side = own?.side ?? current;
    if (side === undefined) noteProblem(gathered, line, 'noSides', cells.join(' '));
    else takeRow(gathered, columns, row, { side, counted, ...(own && { ownCell: own.i }) });
  }
  return notes;
}

const labelOf = ({ cells }: TableRow): string => cells.find((cell) => cell.trim() !== '') ?? '';

const isWords = (row: TableRow): boolean => {
  const label = labelOf(row);
  return row.cells.filter(Boolean).length === 1 && /\p{L}/u.test(label) && sideIn(label) === undefined;
};

/** A row of columns that are headed with a side: a spoke of each. */
function takeSides(gathered: Gathered, columns: readonly SheetColumn[], { line, cells }: TableRow): void {
  const cellsOf = (side: Side) => cellsOfColumns(columns, cells, (column) => column.side === side);
  const sides = new Set(columns.flatMap((column) => (holds(column) === undefined ? [] : (column.side ?? []))));
  for (const side of sides) notePlace(gathered, side, cells[placeColumn(columns)]);
  for (const side of ['left', 'right'] as const) takeSpoke(gathered, side, cellsOf(side), line);
}

function namedSide({ decimal }: Gathered, { cells }: TableRow): NamedSide | undefined {
  return cells.flatMap((cell, i) => {
    const named = /\d/.test(cell) && parseFigure(cell, decimal) !== undefined ? undefined : sideIn(cell);
    return named ? [{ ...named, i }] : [];
  })[0];
}

const namesWhatFollows = (own: NamedSide, { cells }: TableRow): boolean =>
  !/\d/.test(own.rest) && !cells.some((cell, i) => i !== own.i && /\d/.test(cell));

/** A spoke whose side is known: by the columns that a head names, or by its figures alone. */
function takeRow(
  gathered: Gathered,
  columns: readonly SheetColumn[],
  { line, cells }: TableRow,
  { side, ownCell, counted }: { readonly side: Side; readonly ownCell?: number; readonly counted: boolean },
): void {
  const named = cellsOfColumns(columns, cells, (_, i) => i !== ownCell);
  if (named.length > 0) {
    notePlace(gathered, side, cells[placeColumn(columns)]);
    takeSpoke(gathered, side, named, line);
    return;
  }
  const figures = ownCell === undefined ? cells.filter((cell) => /\d/.test(cell)) : figuresBeside(cells, ownCell);
  const placed = figures.length > 1 && counted;
  const left = placed ? figures.slice(1) : figures;
  if (placed) notePlace(gathered, side, figures[0]);
  const hold = gathered.only === 'tones' ? 'tone' : 'tension';
  if (hold === 'tension' && left.length > 1) noteProblem(gathered, line, 'severalFigures', left.join(' '));
  else
    takeSpoke(
      gathered,
      side,
      left.map((cell) => ({ cell, holds: hold })),
      line,
    );
}

const cellsOfColumns = (
  columns: readonly SheetColumn[],
  cells: readonly string[],
  wanted: (column: SheetColumn, i: number) => boolean,
): readonly SheetCell[] =>
  columns.flatMap((column, i) => {
    const held = holds(column);
    return held !== undefined && wanted(column, i) ? [{ cell: cells[i] ?? '', holds: held }] : [];
  });

const placeColumn = (columns: readonly SheetColumn[]): number =>
  columns.findIndex((column) => column.holds === 'place');

/** What is read of a column; undefined for places and all else. */
const holds = (column: SheetColumn): SheetCell['holds'] | undefined =>
  column.holds === 'tension' || column.holds === 'tone' ? column.holds : undefined;
