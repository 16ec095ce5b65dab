import type { TensionUnit } from '../units.ts';
import { figureCell } from './figureCell.ts';
import { parseFigure } from './parseFigure.ts';
import { readTable, type TableProblem } from './readTable.ts';
import { otherUnitIn, unitIn } from './sheetColumns.ts';

export interface ChartRead {
  readonly points: readonly { readonly reading: number; readonly tension: number }[];
  /** Of each point, from 1. */
  readonly lines: readonly number[];
  /** Unit named in the head or beside the tensions, if one is. */
  readonly unit?: TensionUnit;
  readonly problems: readonly {
    readonly line: number;
    readonly reason: TableProblem['reason'] | 'notTwoFigures' | 'unitsMixed' | 'unitNotRead';
    readonly detail: string;
  }[];
}

/**
 * A gauge's chart as it is typed or pasted: a line a point, first the gauge's reading, then the tension; the other way round where the head
 * names a unit of force over the first column alone.
 */
export function readChart(text: string): ChartRead {
  const table = readTable(text);
  const problems: ChartRead['problems'][number][] = [...table.problems];
  const points: { reading: number; tension: number }[] = [];
  const lines: number[] = [];
  const units = new Map<TensionUnit, number>();
  const note = (words: string, line: number) => {
    const other = otherUnitIn(words);
    if (other !== undefined) problems.push({ line, reason: 'unitNotRead', detail: other });
    const unit = unitIn(words);
    if (unit !== undefined && !units.has(unit)) units.set(unit, line);
  };
  const head = table.head?.cells ?? [];
  const [first = '', second = ''] = head;
  const reversed = head.length === 2 && unitIn(first) !== undefined && unitIn(second) === undefined;
  if (table.head) note(head.join(' '), table.head.line);
  for (const { line, cells } of table.rows) {
    const filled = cells.filter((cell) => cell !== '').map(figureCell);
    for (const { unit } of filled) note(unit, line);
    const [reading, tension] = (reversed ? filled.toReversed() : filled).map(({ figure }) =>
      parseFigure(figure, table.decimal),
    );
    const detail = cells.filter(Boolean).join(' ').slice(0, 40);
    if (filled.length !== 2) problems.push({ line, reason: 'notTwoFigures', detail });
    else if (reading === undefined || tension === undefined) problems.push({ line, reason: 'notAFigure', detail });
    else {
      points.push({ reading, tension });
      lines.push(line);
    }
  }
  if (units.size > 1)
    problems.push({
      line: [...units.values()].at(-1) ?? 0,
      reason: 'unitsMixed',
      detail: [...units.keys()].join(', '),
    });
  const [unit] = units.keys();
  return { points, lines, ...(unit ? { unit } : {}), problems };
}
