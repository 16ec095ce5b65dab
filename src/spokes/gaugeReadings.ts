import type { TensionUnit } from '../units.ts';
import { besideReadings } from './readingColumns.ts';
import { type ReadingRow, readingRows } from './readingRows.ts';
import { readTable, type TableProblem } from './readTable.ts';
import { numbersCount, spokesOf } from './sidedNumbers.ts';
import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

export interface SpokeReadings {
  readonly spoke: number;
  readonly line: number;
  /** Repeated readings in the order given, as written. */
  readonly values: readonly number[];
}
export interface ReadingsProblem {
  readonly line: number;
  readonly reason:
    | TableProblem['reason']
    | 'spokeUnknown'
    | 'spokeRepeated'
    | 'unitsMixed'
    | 'noFigures'
    | 'tooManyRows'
    | 'notPositive'
    /** No repeats: a comma or a blank has split a figure, or another column stands beside. */
    | 'repeatsApart'
    /** The spoke of that number sits on the other side: the table numbers in another way. */
    | 'sideContradicts'
    /** A column a side: the spokes' numbers are not this wheel's. */
    | 'columnsBySide'
    /** Side and number may mean a place of the wheel or a spoke of that side. */
    | 'numberUnclear'
    /** Side and a number with nothing behind: spoke or reading? */
    | 'numberAlone';
  readonly detail: string;
}
export interface GaugeReadings {
  /** All or nothing: with a single problem nothing is to be taken over. */
  readonly ok: boolean;
  readonly readings: readonly SpokeReadings[];
  readonly problems: readonly ReadingsProblem[];
  /** Unit found in the head or beside the figures; absent: not stated. */
  readonly unit?: TensionUnit;
  /** Whether its lines name their spokes. */
  readonly numbered: boolean;
  /** Heads of columns that hold no readings: not read, and said. */
  readonly unread: readonly string[];
  /** Spokes of the wheel without a reading: allowed, and said. */
  readonly missing: readonly number[];
}

/** Readings of one spoke that differ by more than this factor are no repeats of each other. */
const MOST_APART = 2;

/**
 * Gauge readings from a pasted or loaded table: one spoke a line, its number first, then one reading or several; or readings alone, in the
 * order of the places, or of those of the side that the lines name.
 *
 * A first column is taken for spoke numbers if all its figures are whole numbers of this wheel, none twice, and there is a second
 * column; one without a reading, or with a dash, has none. Columns that the head calls something else, such as a mean, are left out. Units may
 * stand in the head or behind the figures, but only one of them. A cell that names a side must name the spoke's own;
 * where side and number show that each side is counted from 1, the number is of that side, see `numbersCount`.
 *
 * @param spokeCount Of the wheel.
 * @param order Places in the order in which readings without a number are given; default 1, 2, 3 …
 * @param sides Of the wheel's spokes by place; where it is not given, no side is held against them.
 */
export function gaugeReadings(
  text: string,
  spokeCount: number,
  order?: readonly number[],
  sides: readonly Side[] = [],
): GaugeReadings {
  const table = readTable(text);
  const head = table.head?.cells ?? [];
  const beside = besideReadings(head);
  const { rows, units, unreadable } = readingRows(table, beside, sides.length > 0);
  const problems: ReadingsProblem[] = [...table.problems, ...unreadable];
  const headed = head.map((cell) => sideIn(cell)?.side);
  if (table.head && headed.includes('left') && headed.includes('right'))
    problems.push({ line: table.head.line, reason: 'columnsBySide', detail: head.join('; ').slice(0, 40) });
  const filled = rows.filter((row) => row.figures.length > 0);
  if (filled.length === 0 && problems.length === 0) problems.push({ line: 0, reason: 'noFigures', detail: '–' });
  // A number alone is a spoke's where a column beside it is left empty.
  const numbers = (row: ReadingRow) =>
    Number.isInteger(row.figures[0]) && (row.written > 1 || (row.columns > 1 && (row.figures[0] ?? 0) <= spokeCount));
  const numbered = filled.some((row) => row.written > 1) && filled.every(numbers);
  const call = filled.find(({ called }) => called !== undefined);
  const counts = numbersCount(
    filled.map(({ figures: [number = 0], side }) => ({ number, side })),
    sides,
    call !== undefined,
  );
  const unclear = numbered ? counts === 'unclear' : call !== undefined;
  if (call && unclear)
    problems.push({ line: call.line, reason: numbered ? 'numberUnclear' : 'numberAlone', detail: call.called ?? '' });
  const places = order ?? Array.from({ length: spokeCount }, (_, i) => i + 1);
  const bySide = !numbered && sides.length > 0 && filled.every(({ side }) => side !== undefined);
  const free = [...places];
  /** The next in the order, on the side that the line names. */
  const next = (side: Side | undefined): number => {
    const at = bySide ? free.findIndex((place) => sides[place - 1] === side) : 0;
    return (at < 0 ? undefined : free.splice(at, 1)[0]) ?? 0;
  };
  const numberedSpoke = (number: number, side: Side | undefined): number =>
    (counts === 'eachSide' && side ? spokesOf(side, sides)[number - 1] : undefined) ?? number;
  const all = filled.map(({ line, figures, side }): SpokeReadings => {
    const [first = 0, ...rest] = figures;
    const spoke = numbered ? numberedSpoke(first, side) : next(side);
    const own = sides[spoke - 1];
    if (side !== undefined && own !== undefined && side !== own && !unclear)
      problems.push({ line, reason: 'sideContradicts', detail: `${spoke}: ${own}, not ${side}` });
    return { spoke, line, values: numbered ? rest : figures };
  });
  const over = numbered ? undefined : all.find(({ spoke }) => spoke === 0);
  if (over) problems.push({ line: over.line, reason: 'tooManyRows', detail: `${filled.length} > ${places.length}` });
  const readings = all.filter(({ values }) => values.length > 0);
  const seen = new Map<number, number>();
  for (const { spoke, line, values } of readings) {
    if (numbered && (spoke < 1 || spoke > spokeCount))
      problems.push({ line, reason: 'spokeUnknown', detail: `${spoke}; 1–${spokeCount}` });
    const before = seen.get(spoke);
    if (numbered && before !== undefined)
      problems.push({ line, reason: 'spokeRepeated', detail: `${spoke}, ${before}` });
    seen.set(spoke, line);
    for (const value of values) if (!(value > 0)) problems.push({ line, reason: 'notPositive', detail: `${value}` });
    if (values.length > 1 && Math.max(...values) > MOST_APART * Math.min(...values))
      problems.push({ line, reason: 'repeatsApart', detail: values.join(', ').slice(0, 40) });
  }
  const [unit] = units.keys();
  if (units.size > 1)
    problems.push({
      line: [...units.values()].at(-1) ?? 0,
      reason: 'unitsMixed',
      detail: [...units.keys()].join(', '),
    });
  return {
    ok: problems.length === 0,
    readings,
    problems: problems.toSorted((a, b) => a.line - b.line),
    ...(unit === undefined ? {} : { unit }),
    numbered,
    unread: head.filter((_, i) => beside.has(i)),
    missing: Array.from({ length: spokeCount }, (_, i) => i + 1).filter((spoke) => !seen.has(spoke)),
  };
}
