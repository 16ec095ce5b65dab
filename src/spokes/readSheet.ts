import type { TensionUnit } from '../units.ts';
import { figureCell } from './figureCell.ts';
import { linesOfSides } from './linesOfSides.ts';
import { parseFigure } from './parseFigure.ts';
import { readTable, type TableProblem, type TableRow } from './readTable.ts';
import type { RepeatedPlace } from './sheet.ts';
import { otherUnitIn, type SheetColumn, unitIn, unitInTitle } from './sheetColumns.ts';
import { figuresBeside, firstFiguresCount, sheetHead } from './sheetHead.ts';
import { sideIn } from './sideIn.ts';
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
export interface SheetProblem {
  readonly line: number;
  readonly reason:
    | TableProblem['reason']
    | 'noSides'
    /** A row of means or spreads: a claim, not a spoke. */
    | 'summaryRow'
    /** Several figures, and no head tells which is the tension. */
    | 'severalFigures'
    /** Several columns of tensions: which one is meant? */
    | 'severalTensions'
    | 'unitsMixed'
    | 'unitNotRead'
    | 'notPositive'
    /** Tones without a tension on their line. */
    | 'noTension';
  readonly detail: string;
}

const SUMMARY =
  /^\W*(mean|average|avg|mittel(wert)?|moyenne|media|st\.?\s?dev\.?|std\.?|sd|standard deviation|range|min(imum)?|max(imum)?|total|sum|median|spread|ratio)\b/i;
const MOST_PROBLEMS = 50;

interface Taken {
  readonly tension?: number;
  readonly tones: readonly number[];
}

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
  const problems: SheetProblem[] = [...table.problems];
  const units = new Map<TensionUnit, number>();
  const noteUnit = (cell: string, line: number) => {
    const other = otherUnitIn(cell);
    if (other && !problems.some((one) => one.line === line && one.detail === other))
      problems.push({ line, reason: 'unitNotRead', detail: other });
    const unit = other ? undefined : unitIn(cell);
    if (unit !== undefined && !units.has(unit)) units.set(unit, line);
  };
  const { decimal } = table;
  const lines = [...(table.head ? [table.head] : []), ...table.rows];
  const {
    head,
    columns: found,
    side: headed,
    body,
    titles,
    stray,
  } = sheetHead(linesOfSides(lines, decimal) ?? lines, decimal);
  const columns =
    only === 'tones' ? found.map((one) => (one.holds === 'tension' ? { ...one, holds: 'tone' as const } : one)) : found;
  let decimals = 0;
  const figure = (cell: string, line: number, tension: boolean): number | undefined => {
    const { figure: bare, unit: named } = figureCell(cell);
    if (tension) noteUnit(named, line);
    const value = parseFigure(bare, decimal);
    if (value === undefined) problems.push({ line, reason: 'notAFigure', detail: cell.slice(0, 40) });
    else if (!(value > 0)) problems.push({ line, reason: 'notPositive', detail: cell.slice(0, 40) });
    else if (tension) decimals = Math.max(decimals, bare.split(decimal)[1]?.length ?? 0);
    return value;
  };
  const several = (cell: string) =>
    cell.split(decimal === ',' ? /[\s/;]+/ : /[\s/;,]+/).filter((one) => /\d/.test(one));
  const rows: Record<Side, Taken[]> = { left: [], right: [] };
  const places: RepeatedPlace[] = [];
  const notePlace = (side: Side, cell: string | undefined) => {
    const place = parseFigure(cell ?? '', decimal);
    if (place !== undefined) places.push({ side, place });
  };
  /** Lines with more than one tension of a side. */
  const twice = new Set<number>();
  const take = (
    side: Side,
    cells: readonly { readonly cell: string; readonly holds: 'tension' | 'tone' }[],
    line: number,
  ) => {
    let tension: number | undefined;
    const tones: number[] = [];
    for (const { cell, holds } of cells) {
      if (cell.trim() === '' || /^[-–—]$/.test(cell.trim())) continue;
      if (holds === 'tension') {
        if (tension !== undefined) twice.add(line);
        tension ??= figure(cell, line, true);
      } else for (const part of several(cell)) tones.push(figure(part, line, false) ?? 0);
    }
    if (only === 'tensions' && tension === undefined && tones.length > 0)
      problems.push({ line, reason: 'noTension', detail: tones.join(' ').slice(0, 40) });
    // A dash among tones keeps its spoke's place.
    const kept = only === 'tones' && cells.some(({ cell }) => cell.trim() !== '');
    if (tension !== undefined || tones.length > 0 || kept)
      rows[side].push({ ...(tension === undefined ? {} : { tension }), tones: tones.filter((one) => one > 0) });
  };
  if (head)
    for (const [i, cell] of head.cells.entries()) if (columns[i]?.holds === 'tension') noteUnit(cell, head.line);

  const sided = columns.flatMap((column, i) => (column.side && isRead(column) ? [{ ...column, i }] : []));
  const bySide = (side: Side) => sided.filter((one) => one.side === side);
  const counted = firstFiguresCount(body, decimal);
  const numbered = columns.findIndex((column) => column.holds === 'place');
  for (const { line, cells } of stray)
    problems.push({ line, reason: 'notAFigure', detail: cells.find((cell) => /\d/.test(cell))?.slice(0, 40) ?? '' });
  let current = headed;
  const notes: TableRow[] = [];
  for (const { line, cells } of body) {
    const label = cells.find((cell) => cell.trim() !== '') ?? '';
    if (SUMMARY.test(label)) {
      problems.push({ line, reason: 'summaryRow', detail: cells.filter(Boolean).join(' ').slice(0, 40) });
      continue;
    }
    if (head && cells.slice(head.cells.length).some((cell) => cell.trim() !== ''))
      problems.push({ line, reason: 'raggedRow', detail: `${cells.length} > ${head.cells.length}` });
    if (sided.length > 0 && cells.filter(Boolean).length === 1 && /\p{L}/u.test(label) && sideIn(label) === undefined) {
      notes.push({ line, cells });
      continue;
    }
    if (sided.length > 0) {
      for (const side of new Set(sided.flatMap((one) => one.side ?? []))) notePlace(side, cells[numbered]);
      for (const side of ['left', 'right'] as const)
        take(
          side,
          bySide(side).map((one) => ({ cell: cells[one.i] ?? '', holds: one.holds === 'tone' ? 'tone' : 'tension' })),
          line,
        );
      continue;
    }
    const own = cells.flatMap((cell, i) => {
      const named = /\d/.test(cell) && parseFigure(cell, decimal) !== undefined ? undefined : sideIn(cell);
      return named ? [{ ...named, i }] : [];
    })[0];
    const others = cells.filter((_, i) => i !== own?.i);
    if (own && !/\d/.test(own.rest) && !others.some((cell) => /\d/.test(cell))) {
      noteUnit(cells.join(' '), line);
      current = own.side;
      continue;
    }
    const side = own?.side ?? current;
    if (side === undefined) {
      problems.push({ line, reason: 'noSides', detail: cells.join(' ').slice(0, 40) });
      continue;
    }
    const named = columns.flatMap((column, i) =>
      isRead(column) && i !== own?.i
        ? [{ cell: cells[i] ?? '', holds: column.holds === 'tone' ? ('tone' as const) : ('tension' as const) }]
        : [],
    );
    if (named.length > 0) {
      notePlace(side, cells[numbered]);
      take(side, named, line);
      continue;
    }
    const figures = own ? figuresBeside(cells, own.i) : cells.filter((cell) => /\d/.test(cell));
    const placed = figures.length > 1 && counted;
    const left = placed ? figures.slice(1) : figures;
    if (placed) notePlace(side, figures[0]);
    if (only === 'tones')
      take(
        side,
        left.map((cell) => ({ cell, holds: 'tone' })),
        line,
      );
    else if (left.length > 1) problems.push({ line, reason: 'severalFigures', detail: left.join(' ').slice(0, 40) });
    else
      take(
        side,
        left.map((cell) => ({ cell, holds: 'tension' })),
        line,
      );
  }
  const [firstTwice] = twice;
  if (firstTwice !== undefined) {
    const heads = (head?.cells ?? []).filter((_, i) => columns[i]?.holds === 'tension');
    problems.push({ line: head?.line ?? firstTwice, reason: 'severalTensions', detail: heads.join('; ').slice(0, 80) });
  }
  if (units.size > 1)
    problems.push({
      line: [...units.values()].at(-1) ?? 0,
      reason: 'unitsMixed',
      detail: [...units.keys()].join(', '),
    });
  const words = (row: TableRow) => row.cells.filter(Boolean).join(' ');
  const [unit = [...titles, ...notes].flatMap((row) => unitInTitle(words(row)) ?? [])[0]] = units.keys();
  const tensions = (side: Side) => rows[side].flatMap((one) => one.tension ?? []);
  const anyTone = [...rows.left, ...rows.right].some((one) => one.tones.length > 0);
  return {
    ok: problems.length === 0,
    left: tensions('left'),
    right: tensions('right'),
    decimals,
    repeated: places.filter(
      (one, i) => places.findIndex((other) => other.side === one.side && other.place === one.place) < i,
    ),
    unread: [
      ...(head?.cells ?? []).filter((cell, i) => columns[i]?.holds === 'other' && cell.trim() !== ''),
      ...notes.map((row) => words(row).slice(0, 40)),
    ],
    ...(unit && units.size <= 1 ? { unit } : {}),
    ...(anyTone
      ? { tonesHz: { left: rows.left.map((one) => one.tones), right: rows.right.map((one) => one.tones) } }
      : {}),
    problems: problems.toSorted((a, b) => a.line - b.line).slice(0, MOST_PROBLEMS),
  };
}

const isRead = ({ holds }: SheetColumn): boolean => holds === 'tension' || holds === 'tone';
