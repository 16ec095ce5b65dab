import type { TensionUnit } from '../units.ts';
import { parseFigure } from './parseFigure.ts';
import { readTable, type TableProblem } from './readTable.ts';

export interface ChartRead {
  readonly points: readonly { readonly reading: number; readonly tension: number }[];
  /** Of each point, from 1. */
  readonly lines: readonly number[];
  /** Unit named in the head, if one is. */
  readonly unit?: TensionUnit;
  readonly problems: readonly {
    readonly line: number;
    readonly reason: TableProblem['reason'] | 'notTwoFigures';
    readonly detail: string;
  }[];
}

/** A gauge's chart as it is typed or pasted: a line a point, first the gauge's reading, then the tension. */
export function readChart(text: string): ChartRead {
  const table = readTable(text);
  const problems: ChartRead['problems'][number][] = [...table.problems];
  const points: { reading: number; tension: number }[] = [];
  const lines: number[] = [];
  for (const { line, cells } of table.rows) {
    const filled = cells.filter((cell) => cell !== '');
    const [reading, tension] = filled.map((cell) => parseFigure(cell, table.decimal));
    if (filled.length !== 2) problems.push({ line, reason: 'notTwoFigures', detail: filled.join(' ').slice(0, 40) });
    else if (reading === undefined || tension === undefined)
      problems.push({ line, reason: 'notAFigure', detail: filled.join(' ').slice(0, 40) });
    else {
      points.push({ reading, tension });
      lines.push(line);
    }
  }
  const head = table.head?.cells.join(' ') ?? '';
  const unit = /\bkgf?\b/i.test(head)
    ? 'kgf'
    : /\blb[fs]?\b/i.test(head)
      ? 'lbf'
      : /\bN\b/.test(head)
        ? 'N'
        : undefined;
  return { points, lines, ...(unit ? { unit } : {}), problems };
}
