import { figureCell, UNIT_WORDS } from './figureCell.ts';
import { type DecimalSign, parseFigure } from './parseFigure.ts';
import { plainFigures } from './plainFigures.ts';

export interface TableProblem {
  /** From 1, as in the text; 0 for the whole. */
  readonly line: number;
  readonly reason: 'tooLong' | 'empty' | 'notText' | 'notAFigure' | 'unclearDecimals' | 'raggedRow' | 'brokenQuote';
  readonly detail: string;
}
export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
}
export interface Table {
  readonly separator: ';' | ',' | '\t' | '|' | ' ';
  readonly decimal: DecimalSign;
  /** First row, if it holds no figure. */
  readonly head?: TableRow;
  readonly rows: readonly TableRow[];
  readonly problems: readonly TableProblem[];
}

/** A wheel has at most 144 spokes; a thousand rows are another file. */
const MOST_ROWS = 1000;
const MOST_CELLS = 64;
const LONGEST = 1_000_000;
/** Below the head of a table drawn with bars: `|---|:--:|`. @source CommonMark's table extension, GitHub Flavored Markdown Spec 0.29, 4.10 */
const RULE = /^(?=.*\|)\s*\|?\s*:?-+:?\s*(\|\s*:?-+:?\s*)*\|?\s*$/;

/**
 * Takes a pasted or loaded table apart: its separator, its decimal sign, its head.
 *
 * Bars before tab before semicolon before comma before blanks, whichever the lines have; with commas between cells figures have points, with
 * anything else a comma in a figure is its decimal sign. Bars are those of a Markdown table: its outer ones are no cells, and the rule below its head is no row. Quoted cells as in RFC 4180. Lines that start with # are passed over, unless it is a
 * cell by itself: the head of the spokes' numbers.
 *
 * @returns What could be read, and every problem with its line.
 */
export function readTable(text: string): Table {
  const none = { separator: ';' as const, decimal: '.' as const, rows: [] };
  if (text.length > LONGEST)
    return { ...none, problems: [{ line: 0, reason: 'tooLong', detail: `${text.length} > ${LONGEST}` }] };
  const control = [...text.slice(0, 10_000)].findIndex((c) => c === '\u0000' || c === '\uFFFD');
  if (control >= 0) return { ...none, problems: [{ line: 0, reason: 'notText', detail: `@ ${control}` }] };
  const lines = plainFigures(text)
    .split(/\r\n|\n|\r/)
    .map((content, i) => ({ line: i + 1, content }))
    .filter(({ content }) => content.trim() !== '' && !RULE.test(content) && !/^\s*#(?!\s*[,;\t])/.test(content));
  if (lines.length === 0) return { ...none, problems: [{ line: 0, reason: 'empty', detail: '–' }] };
  if (lines.length > MOST_ROWS)
    return { ...none, problems: [{ line: 0, reason: 'tooLong', detail: `${lines.length} > ${MOST_ROWS}` }] };
  const contents = lines.map((one) => joined(one.content));
  const separator = separatorOf(contents);
  const problems: TableProblem[] = [];
  const rows = lines.map(({ line, content }, i): TableRow => {
    const cells = split(separator === ' ' ? (contents[i] ?? '') : content, separator);
    if (cells === undefined) problems.push({ line, reason: 'brokenQuote', detail: content.slice(0, 40) });
    else if (cells.length > MOST_CELLS) problems.push({ line, reason: 'tooLong', detail: `${cells.length}` });
    return { line, cells: (cells ?? []).slice(0, MOST_CELLS) };
  });
  const decimal = decimalOf(rows);
  const unclear = decimal === ',' ? thousandsOrDecimals(rows) : pointsAmongWhole(rows);
  if (unclear) problems.push(unclear);
  const figures = (row: TableRow | undefined) =>
    row?.cells.some((cell) => parseFigure(figureCell(cell).figure, decimal) !== undefined) ?? false;
  const [first] = rows;
  const head = first && !figures(first) ? first : undefined;
  return { separator, decimal, ...(head ? { head } : {}), rows: head ? rows.slice(1) : rows, problems };
}

function separatorOf(lines: readonly string[]): Table['separator'] {
  const unquoted = lines.map((line) => line.replace(/"[^"]*"/g, ''));
  for (const candidate of ['|', '\t', ';'] as const)
    if (unquoted.some((line) => line.includes(candidate))) return candidate;
  // `12, 1050` or `12,1050,1060` are cells; `1050,5` alone on most lines is one figure.
  const commas = unquoted.filter((line) => line.includes(','));
  if (commas.length === 0) return ' ';
  const severalFigures = commas.filter(
    (line) => line.split(',').length > 2 || /,\s/.test(line) || /\./.test(line) || /[a-z]/i.test(line),
  );
  // An empty cell, or one of words, between two commas: no figure has that.
  if (commas.some((line) => /,\s*(,|[a-z][a-z ]*,)/i.test(line))) return ',';
  const blanks = unquoted.filter((line) => /\S\s+\S/.test(line.trim()));
  if (blanks.length > lines.length / 2 && !commas.some((line) => /,\s/.test(line))) return ' ';
  if (severalFigures.length > 0) return ',';
  // `3,1050`: a spoke number and a figure. `1050,5`: a figure with one or two decimals, perhaps beside others without any.
  const decimalsAll = unquoted.every((line) =>
    line.includes(',') ? /^\s*\d+,\d{1,2}\s*$/.test(line) && Number.parseInt(line, 10) > 9 : /^\s*\d+\s*$/.test(line),
  );
  return decimalsAll ? ' ' : ',';
}

/** Blanks within a figure's cell divide nothing: `57 kgf`, `570 ± 20 N`. */
const joined = (line: string): string =>
  line.replace(/(\d)\s*(±|\+\s?\/?\s?[-−–])\s*(?=[\d.,])/g, '$1$2').replace(BLANKS_BEFORE_UNIT, '$1');
const BLANKS_BEFORE_UNIT = new RegExp(`(\\d)[ \\u00a0]+(?=(${UNIT_WORDS})(?![a-z]))`, 'gi');

/** Between commas only a quoted cell can hold one. Commas that all stand between threes beside a point for decimals group thousands. */
function decimalOf(rows: readonly TableRow[]): DecimalSign {
  const figures = rows.flatMap((row) => row.cells.map((cell) => figureCell(cell).figure));
  if (!figures.some((figure) => /^[+-]?\d*,\d+$/.test(figure))) {
    const points = figures.some((figure) => /^[+-]?\d{1,3}(\.\d{3})+,\d+$/.test(figure));
    return points ? ',' : '.';
  }
  const grouping = figures.filter((figure) => figure.includes(',')).every((figure) => GROUPED.test(figure));
  const decimals = figures.some((figure) => /^[+-]?\d*(,\d{3})*\.\d{1,2}$/.test(figure));
  return grouping && decimals ? '.' : ',';
}

/** `1,050`, `1,050.5` */
const GROUPED = /^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d*)?$/;

/** `1,050` on every line may be a thousand and fifty, or one and a twentieth: nothing tells. */
function thousandsOrDecimals(rows: readonly TableRow[]): TableProblem | undefined {
  const commas = rows.flatMap(({ line, cells }) =>
    cells.flatMap((cell) => {
      const { figure } = figureCell(cell);
      return /\d,\d/.test(figure) ? [{ line, cell: figure }] : [];
    }),
  );
  const [first] = commas;
  if (!first || commas.some(({ cell }) => !/^[+-]?[1-9]\d{0,2},\d{3}(\s|$)/.test(cell.trim()))) return undefined;
  return { line: first.line, reason: 'unclearDecimals', detail: first.cell.slice(0, 40) };
}

/** `1.020` among whole figures such as 990 is likelier a thousand and twenty: no table gives one tension to a thousandth and the next to none. */
function pointsAmongWhole(rows: readonly TableRow[]): TableProblem | undefined {
  const figures = rows.flatMap(({ line, cells }) => cells.map((cell) => ({ line, figure: figureCell(cell).figure })));
  const pointed = figures.filter(({ figure }) => /\d\.\d/.test(figure));
  const [first] = pointed;
  if (!first || pointed.some(({ figure }) => !/^[1-9]\.\d{3}$/.test(figure))) return undefined;
  if (!figures.some(({ figure }) => /^\d{3}$/.test(figure))) return undefined;
  return { line: first.line, reason: 'unclearDecimals', detail: first.figure };
}

/** @returns undefined for a quote that does not end. @source RFC 4180, section 2 */
function split(line: string, separator: Table['separator']): readonly string[] | undefined {
  if (separator === ' ') return line.trim().split(/\s+/);
  if (separator === '|')
    return line
      .trim()
      .replace(/^\||\|$/g, '')
      .split('|')
      .map((cell) => cell.trim().replace(/^(\*\*|__|[*_`])(.+)\1$/, '$2'));
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < line.length; i++) {
    const c = line[i];
    if (quoted && c === '"' && line[i + 1] === '"') {
      cell += '"';
      i++;
    } else if (c === '"') quoted = !quoted;
    else if (c === separator && !quoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += c;
  }
  if (quoted) return undefined;
  cells.push(cell.trim());
  return cells;
}
