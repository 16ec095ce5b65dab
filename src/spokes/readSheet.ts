import type { TensionUnit } from '../units.ts';
import { type Gathered, noteProblem, noteUnit, nothingGathered } from './gatherSheet.ts';
import { linesOfSides } from './linesOfSides.ts';
import { readTable, type TableRow } from './readTable.ts';
import type { RepeatedPlace } from './sheet.ts';
import { readBody } from './sheetBody.ts';
import { type SheetColumn, unitInTitle } from './sheetColumns.ts';
import { sheetHead } from './sheetHead.ts';
import type { SheetProblem } from './sheetProblem.ts';
import type { Side } from './wheel.ts';

export interface SheetTable {
  readonly ok: boolean;
  readonly left: readonly number[];
  readonly right: readonly number[];
  readonly decimals: number;
  readonly unit?: TensionUnit;
  /** Spokes' numbers that stand more than once on a side, as far as the table numbers its rows. */
  readonly repeated: readonly RepeatedPlace[];
  /** Heads of columns that hold neither a tension nor a tone, and lines of words below the table: not read, and said. */
  readonly unread: readonly string[];
  /** Tones of each row, Hz, in the order of `left` and `right`, where the table gives any. */
  readonly tonesHz?: Readonly<Record<Side, readonly (readonly number[])[]>>;
  readonly problems: readonly SheetProblem[];
}

const MOST_PROBLEMS = 50;
const LONGEST_HEADS = 80;
const LONGEST_NOTE = 40;

/**
 * Somebody's table by side: columns headed with a side, or rows that name theirs, or a line that names the side of the rows below it, or
 * one line a side.
 *
 * A head tells tensions, tones, sides and place numbers apart (`left kgf`, `tone 1 Hz`, `spoke`); without one a row has its tension as its
 * only figure, or after a place number. Everything that cannot be read is named with its line; nothing is passed over silently.
 *
 * @param only `tones`: columns and figures without a name are tones.
 */
export function readSheet(text: string, only: 'tensions' | 'tones' = 'tensions'): SheetTable {
  const table = readTable(text);
  const lines = [...(table.head ? [table.head] : []), ...table.rows];
  const found = sheetHead(linesOfSides(lines, table.decimal) ?? lines, table.decimal);
  const sheet = { ...found, columns: only === 'tones' ? found.columns.map(asTones) : found.columns };
  const gathered = nothingGathered(table.decimal, only, table.problems);
  for (const [i, cell] of (sheet.head?.cells ?? []).entries())
    if (sheet.columns[i]?.holds === 'tension') noteUnit(gathered, cell, sheet.head?.line ?? 0);
  for (const { line, cells } of sheet.stray)
    noteProblem(gathered, line, 'notAFigure', cells.find((cell) => /\d/.test(cell)) ?? '');
  const notes = readBody(gathered, sheet);
  noteSeveralTensions(gathered, sheet);
  noteMixedUnits(gathered);
  return asTable(gathered, sheet, notes);
}

type Sheet = ReturnType<typeof sheetHead>;

const asTones = (column: SheetColumn): SheetColumn =>
  column.holds === 'tension' ? { ...column, holds: 'tone' } : column;

function noteSeveralTensions({ problems, twice }: Gathered, { head, columns }: Sheet): void {
  const [first] = twice;
  if (first === undefined) return;
  const heads = (head?.cells ?? []).filter((_, i) => columns[i]?.holds === 'tension');
  const detail = heads.join('; ').slice(0, LONGEST_HEADS);
  problems.push({ line: head?.line ?? first, reason: 'severalTensions', detail });
}

function noteMixedUnits({ problems, units }: Gathered): void {
  if (units.size < 2) return;
  const line = [...units.values()].at(-1) ?? 0;
  problems.push({ line, reason: 'unitsMixed', detail: [...units.keys()].join(', ') });
}

function asTable(gathered: Gathered, sheet: Sheet, notes: readonly TableRow[]): SheetTable {
  const { rows, problems, decimals, units } = gathered;
  const unit = unitOf(units, [...sheet.titles, ...notes]);
  const tensions = (side: Side) => rows[side].flatMap((one) => one.tension ?? []);
  const tones = (side: Side) => rows[side].map((one) => one.tones);
  const anyTone = [...tones('left'), ...tones('right')].some((one) => one.length > 0);
  return {
    ok: problems.length === 0,
    left: tensions('left'),
    right: tensions('right'),
    decimals,
    repeated: repeatedIn(gathered.places),
    unread: [...unreadHeads(sheet), ...notes.map((row) => wordsOf(row).slice(0, LONGEST_NOTE))],
    ...(unit ? { unit } : {}),
    ...(anyTone ? { tonesHz: { left: tones('left'), right: tones('right') } } : {}),
    problems: problems.toSorted((a, b) => a.line - b.line).slice(0, MOST_PROBLEMS),
  };
}

/** Of heads and cells; where they name none, of a title or a note. */
function unitOf(units: Gathered['units'], words: readonly TableRow[]): TensionUnit | undefined {
  if (units.size > 1) return undefined;
  const [named] = units.keys();
  return named ?? words.flatMap((row) => unitInTitle(wordsOf(row)) ?? [])[0];
}

const repeatedIn = (places: readonly RepeatedPlace[]): readonly RepeatedPlace[] =>
  places.filter((one, i) => places.findIndex((other) => other.side === one.side && other.place === one.place) < i);

const unreadHeads = ({ head, columns }: Sheet): readonly string[] =>
  (head?.cells ?? []).filter((cell, i) => columns[i]?.holds === 'other' && cell.trim() !== '');

const wordsOf = (row: TableRow): string => row.cells.filter(Boolean).join(' ');
