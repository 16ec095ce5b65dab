import { findOutliers } from './findOutliers.ts';
import { median, scaledMad } from './median.ts';
import type { SheetFinding } from './sheet.ts';
import type { ComparedRow, SheetToneRow } from './sheetToneRow.ts';

export type Together = Extract<SheetFinding, { kind: 'tonesContradictTogether' }>;
export type TogetherFit = Extract<SheetFinding, { kind: 'tonesFitTogether' }>;

const COVERAGE = 2;
/** Agreement this close with the string's formula is no accident. */
const STRING_RELATIVE = 0.03;
/** Fewer have no ratio in common that a single one could not make. */
const FEWEST = 5;

export const isStrings = (tensionN: number, row: SheetToneRow): boolean =>
  [row.stringWholeN, row.stringFreeN].some((value) => Math.abs(tensionN / value - 1) < STRING_RELATIVE);

/**
 * Whether the rows of spokes that share a description are off by one ratio, as with one wrong length or mass for all of them.
 *
 * The ratio is their median. It counts where it leaves 1 by more than the description's own uncertainty and its scatter allow, and where it
 * is larger than the scatter, so that two halves at odds are not taken for one.
 *
 * @returns the rows that leave the common ratio in turn, to be named by themselves; undefined where nothing is common.
 */
export function togetherOff(
  rows: readonly ComparedRow[],
): { readonly finding: Together; readonly apart: readonly ComparedRow[] } | undefined {
  if (rows.length < FEWEST) return undefined;
  const { ratios, own, ratio, expanded, typical } = commonRatio(rows);
  const off = Math.abs(ratio - 1);
  if (off <= expanded || off <= COVERAGE * scaledMad(ratios)) return undefined;
  const outliers = new Set(findOutliers(ratios, own).map(({ index }) => index));
  const apart = rows.filter((_, i) => outliers.has(i));
  return {
    apart,
    finding: {
      severity: 'fault',
      kind: 'tonesContradictTogether',
      side: typical.side,
      rows: rows.length - apart.length,
      of: rows.length,
      percent: 100 * (ratio - 1),
      expandedPercent: 100 * expanded,
      stringExplains: isStrings(ratio * typical.member.tensionN, typical),
      rings: typical.rings,
      wanted: wantedFor(typical, ratio),
    },
  };
}

/**
 * Where rows of one description share no ratio but 1: how sharply their tones can tell that, and which free length passes unseen. The ends'
 * stiffness and what else all share does not average out, however many the rows.
 *
 * The length is told only where each row has a single tone: the lowest tone then holds all that is known. Further tones let the ends and the
 * numbering take up part of a wrong length, so that more of it passes than the ratio's interval says.
 *
 * @returns undefined for too few rows, or where a ratio leaves 1 in turn.
 */
export function togetherFit(rows: readonly ComparedRow[]): TogetherFit | undefined {
  if (rows.length < FEWEST) return undefined;
  const { ratio, expanded, typical } = commonRatio(rows);
  if (Math.abs(ratio - 1) > expanded) return undefined;
  return {
    severity: 'note',
    kind: 'tonesFitTogether',
    side: typical.side,
    rows: rows.length,
    percent: 100 * (ratio - 1),
    expandedPercent: 100 * expanded,
    ...(rows.every(({ tonesHz }) => tonesHz.length === 1)
      ? { unseenMm: wantedFor(typical, 1 + expanded).lengthMm - wantedFor(typical, 1).lengthMm }
      : {}),
  };
}

/** Sheet over tones, row by row and in the middle, with its expanded uncertainty, and the row that lies nearest to it. */
function commonRatio(rows: readonly ComparedRow[]) {
  const ratios = rows.map(({ sheetN, member }) => sheetN / member.tensionN);
  const own = rows.map(({ member }) => member.uOwnN / member.tensionN);
  const common = median(rows.map(({ member }) => member.uCommonN / member.tensionN));
  const ratio = median(ratios);
  const scatter = Math.max(scaledMad(ratios), median(own));
  const expanded = COVERAGE * Math.hypot(common, scatter / Math.sqrt(rows.length));
  const typical = rows.reduce((best, row) => (distance(row, ratio) < distance(best, ratio) ? row : best));
  return { ratios, own, ratio, expanded, typical };
}

const distance = ({ sheetN, member }: ComparedRow, ratio: number) => Math.abs(sheetN / member.tensionN - ratio);

/**
 * The free length, or the mass per length, with which the row's lowest tone would give its tension times the ratio.
 *
 * A stiff string: 2 L f √μ = √T (1 + 2 c / (L √T)), with c = √(E I) as the member's own tension demands it; for another L, T or μ and
 * the same c that is a quadratic.
 *
 * @source Fletcher, J. Acoust. Soc. Am. 36 (1964) 203: string with clamped ends, to first order in the stiffness
 */
function wantedFor({ rings, member, tonesHz }: ComparedRow, ratio: number): Together['wanted'] {
  const [length, perLength] = [rings.lengthMm / 1000, rings.massGramsPerMetre / 1000];
  const speed = 2 * Math.sqrt(perLength) * (tonesHz[0] ?? 0);
  const [now, then] = [Math.sqrt(member.tensionN), Math.sqrt(ratio * member.tensionN)];
  const stiff = speed * length ** 2 - now * length;
  return {
    lengthMm: (1000 * (then + Math.sqrt(then ** 2 + 4 * speed * stiff))) / (2 * speed),
    massGramsPerMetre: rings.massGramsPerMetre * ((then * length + stiff) / (speed * length ** 2)) ** 2,
  };
}
