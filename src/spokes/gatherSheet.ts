import type { TensionUnit } from '../units.ts';
import { figureCell } from './figureCell.ts';
import { type DecimalSign, parseFigure } from './parseFigure.ts';
import type { RepeatedPlace } from './sheet.ts';
import { otherUnitIn, unitIn } from './sheetColumns.ts';
import type { SheetProblem } from './sheetProblem.ts';
import type { Side } from './wheel.ts';

/** What is read of a sheet so far; filled line by line. */
export interface Gathered {
  readonly decimal: DecimalSign;
  /** `tones`: a row needs no tension. */
  readonly only: 'tensions' | 'tones';
  readonly problems: SheetProblem[];
  /** Each unit with the line where it stood first. */
  readonly units: Map<TensionUnit, number>;
  readonly rows: Readonly<Record<Side, GatheredRow[]>>;
  /** Spokes' numbers, as far as rows have them. */
  readonly places: RepeatedPlace[];
  /** Lines with more than one tension of a side. */
  readonly twice: Set<number>;
  /** Most decimals of a tension. */
  decimals: number;
}
export interface GatheredRow {
  readonly tension?: number;
  readonly tones: readonly number[];
}
export interface SheetCell {
  readonly cell: string;
  readonly holds: 'tension' | 'tone';
}

const LONGEST_DETAIL = 40;

export const nothingGathered = (
  decimal: DecimalSign,
  only: Gathered['only'],
  problems: readonly SheetProblem[],
): Gathered => ({
  decimal,
  only,
  problems: [...problems],
  units: new Map(),
  rows: { left: [], right: [] },
  places: [],
  twice: new Set(),
  decimals: 0,
});

export function noteProblem(gathered: Gathered, line: number, reason: SheetProblem['reason'], detail: string): void {
  gathered.problems.push({ line, reason, detail: detail.slice(0, LONGEST_DETAIL) });
}

/** Keeps the unit that a cell names; one that is not read is told once a line. */
export function noteUnit({ problems, units }: Gathered, cell: string, line: number): void {
  const other = otherUnitIn(cell);
  if (other && !problems.some((one) => one.line === line && one.detail === other))
    problems.push({ line, reason: 'unitNotRead', detail: other });
  const unit = other ? undefined : unitIn(cell);
  if (unit !== undefined && !units.has(unit)) units.set(unit, line);
}

export function notePlace({ places, decimal }: Gathered, side: Side, cell: string | undefined): void {
  const place = parseFigure(cell ?? '', decimal);
  if (place !== undefined) places.push({ side, place });
}

/** Takes one spoke's cells: the first tension and all tones. Nothing is kept of a row that has neither. */
export function takeSpoke(gathered: Gathered, side: Side, cells: readonly SheetCell[], line: number): void {
  let tension: number | undefined;
  const tones: number[] = [];
  for (const { cell, holds } of cells) {
    if (cell.trim() === '' || /^[-–—]$/.test(cell.trim())) continue;
    if (holds === 'tone') {
      for (const part of severalIn(cell, gathered.decimal)) tones.push(figureIn(gathered, part, line, false) ?? 0);
      continue;
    }
    if (tension !== undefined) gathered.twice.add(line);
    tension ??= figureIn(gathered, cell, line, true);
  }
  if (gathered.only === 'tensions' && tension === undefined && tones.length > 0)
    noteProblem(gathered, line, 'noTension', tones.join(' '));
  // A dash among tones keeps its spoke's place.
  const kept = gathered.only === 'tones' && cells.some(({ cell }) => cell.trim() !== '');
  if (tension !== undefined || tones.length > 0 || kept)
    gathered.rows[side].push({
      ...(tension === undefined ? {} : { tension }),
      tones: tones.filter((one) => one > 0),
    });
}

const severalIn = (cell: string, decimal: DecimalSign): readonly string[] =>
  cell.split(decimal === ',' ? /[\s/;]+/ : /[\s/;,]+/).filter((one) => /\d/.test(one));

/** A figure that is none, or not positive, is told with its line. */
function figureIn(gathered: Gathered, cell: string, line: number, tension: boolean): number | undefined {
  const { figure: bare, unit: named } = figureCell(cell);
  if (tension) noteUnit(gathered, named, line);
  const value = parseFigure(bare, gathered.decimal);
  if (value === undefined) noteProblem(gathered, line, 'notAFigure', cell);
  else if (!(value > 0)) noteProblem(gathered, line, 'notPositive', cell);
  else if (tension) gathered.decimals = Math.max(gathered.decimals, bare.split(gathered.decimal)[1]?.length ?? 0);
  return value;
}
