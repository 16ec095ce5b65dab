import type { TensionUnit } from '../units.ts';
import { FORCE_BEHIND, FORCE_WORDS } from './figureCell.ts';
import { parseFigure } from './parseFigure.ts';
import type { Table, TableProblem } from './readTable.ts';
import { sidedNumber } from './sidedNumbers.ts';
import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

export interface ReadingRow {
  readonly line: number;
  /** A spoke's number first, where the table numbers its spokes. */
  readonly figures: readonly number[];
  /** Cells that hold a figure or something that should be one. */
  readonly written: number;
  /** Side and number in one cell, as written. */
  readonly called: string | undefined;
  /** Of the line itself, or of the line above that names a side alone. */
  readonly side: Side | undefined;
  readonly columns: number;
}

/** A cell that holds a unit and nothing else. */
const FORCE_ALONE = new RegExp(`^(${FORCE_WORDS})$`, 'i');

const UNITS: readonly (readonly [RegExp, TensionUnit])[] = [
  [/\bkgf\b|\bkg\b|\bkp\b/i, 'kgf'],
  [/\blbf\b|\blbs?\b/i, 'lbf'],
  [/\bN\b|\bnewtons?\b/, 'N'],
];
const unitIn = (text: string): TensionUnit | undefined => UNITS.find(([pattern]) => pattern.test(text))?.[1];

/** The side that a text names with nothing beside it but a unit and its punctuation. */
function sideAlone(text: string): Side | undefined {
  const named = /\d/.test(text) ? undefined : sideIn(text);
  const rest = named?.rest.replace(/[()[\]:;,.]/g, '').trim();
  return rest === '' || FORCE_ALONE.test(rest ?? '-') ? named?.side : undefined;
}

/**
 * The figures of a table of gauge readings, line by line, and the units that stand in its head or beside them.
 *
 * @param beside Columns that hold no readings.
 * @param sided Whether a side with a number may name a spoke.
 * @returns Units by the line on which each stands first.
 */
export function readingRows(
  table: Table,
  beside: ReadonlySet<number>,
  sided: boolean,
): {
  readonly rows: readonly ReadingRow[];
  readonly units: ReadonlyMap<TensionUnit, number>;
  readonly unreadable: readonly TableProblem[];
} {
  const unreadable: TableProblem[] = [];
  const units = new Map<TensionUnit, number>();
  const note = (unit: TensionUnit | undefined, line: number) => {
    if (unit !== undefined && !units.has(unit)) units.set(unit, line);
  };
  const head = table.head?.cells ?? [];
  if (table.head) note(unitIn(head.filter((_, i) => !beside.has(i)).join(' ')), table.head.line);
  /** Of the lines below, where a line names a side and nothing else. */
  let above = sideAlone(head.join(' '));
  const rows = table.rows.map(({ line, cells }): ReadingRow => {
    const figures: number[] = [];
    let written = 0;
    let side: Side | undefined;
    let called: string | undefined;
    for (const [i, cell] of cells.entries()) {
      if (cell === '' || /^[-–—]$/.test(cell) || beside.has(i)) continue;
      const named = sideAlone(cell);
      if (named !== undefined) {
        side = named;
        continue;
      }
      const bare = cell.replace(FORCE_BEHIND, '');
      if (bare !== cell) note(unitIn(cell.slice(bare.length).trim()), line);
      else if (FORCE_ALONE.test(cell)) {
        note(unitIn(cell), line);
        continue;
      }
      written++;
      const own = figures.length === 0 && sided ? sidedNumber(cell) : undefined;
      if (own) {
        side = own.side;
        called = cell;
        figures.push(own.number);
        continue;
      }
      const value = parseFigure(bare, table.decimal);
      if (value === undefined) unreadable.push({ line, reason: 'notAFigure', detail: cell.slice(0, 40) });
      else figures.push(value);
    }
    if (figures.length === 0) above = side ?? above;
    return { line, figures, written, called, side: side ?? above, columns: cells.length };
  });
  return { rows, units, unreadable };
}
