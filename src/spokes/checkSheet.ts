import { newtons, STANDARD_GRAVITY, TENSION_UNITS, type TensionUnit, tensionFrom, tensionIn } from '../units.ts';
import type { LaidSpoke } from './laidSpoke.ts';
import { median } from './median.ts';
import {
  NEEDED_STATEMENTS,
  type Sheet,
  type SheetClaim,
  type SheetFinding,
  type SheetLimits,
  type SheetStatement,
} from './sheet.ts';
import { expectedSideRatio } from './sideRatio.ts';
import { type SideStatistics, sideStatistics } from './sideStatistics.ts';
import { spreadValues } from './spreadDefinitions.ts';
import type { Side } from './wheel.ts';

/** Side means of built wheels lie in these bands, the tighter side in the narrower one. `common practice` */
const TIGHTER_N = [55 * STANDARD_GRAVITY, 140 * STANDARD_GRAVITY] as const;
const ANY_SIDE_N = [20 * STANDARD_GRAVITY, 140 * STANDARD_GRAVITY] as const;
/** A maximum of 140 kgf and more deserves a question. `common practice` */
const UNUSUAL_MAXIMUM_N = 140 * STANDARD_GRAVITY;
/** Two sides by one method: what its chart may err from one tension to another, relative standard uncertainty. `common practice` */
const U_METHOD = 0.03;
const COVERAGE = 2;

export interface SheetCheck {
  readonly sides: { readonly left?: SideStatistics; readonly right?: SideStatistics };
  readonly findings: readonly SheetFinding[];
  readonly lacks: readonly SheetStatement[];
  /** The sheet's unit where its figures are usual in it, otherwise the only one that is plausible, or what it states; absent: open. */
  readonly unit?: TensionUnit;
}

/**
 * Questions somebody else's table of tensions: recomputes its means and spreads, tries its unit, and lays the ratio of its sides beside the hub's
 * geometry.
 *
 * A claim follows from the table if some usual definition gives it within the rounding of claim and table. What does not follow is a fault of
 * the sheet, not of the wheel; it is said with what would explain it.
 *
 * @param spokes The described wheel, for the ratio of the sides; empty if it is not described.
 */
export function checkSheet(sheet: Sheet, spokes: readonly LaidSpoke[] = []): SheetCheck {
  const sides = {
    ...(sheet.left.length > 0 ? { left: sideStatistics(sheet.left) } : {}),
    ...(sheet.right.length > 0 ? { right: sideStatistics(sheet.right) } : {}),
  };
  const findings: SheetFinding[] = [];
  const unit = unitFindings(sheet, sides, findings);
  for (const claim of sheet.claims) {
    const table = tableFor(claim, sheet, unit);
    if (table.values[claim.of].length < 2) continue;
    findings.push(claim.what === 'mean' ? meanFinding(claim, table) : spreadFinding(claim, table));
  }
  countFindings(sheet, spokes, findings);
  for (const one of sheet.repeated ?? []) findings.push({ severity: 'fault', kind: 'placeRepeated', ...one });
  const expected = expectedSideRatio(spokes);
  if (expected && sides.left && sides.right) {
    const measured = sides.left.mean / sides.right.mean;
    const scatter = (side: SideStatistics) => (side.standardDeviation ?? 0) / side.mean / Math.sqrt(side.count);
    const u = Math.hypot(expected.u, measured * Math.hypot(U_METHOD, scatter(sides.left), scatter(sides.right)));
    const contradicts = Math.abs(measured - expected.ratio) > COVERAGE * u;
    const figures = { measured, expected: expected.ratio, expanded: COVERAGE * u };
    findings.push(
      contradicts
        ? { severity: 'fault', kind: 'ratioContradicts', ...figures }
        : { severity: 'note', kind: 'ratioFits', ...figures },
    );
  }
  if (unit !== undefined) limitFindings(sheet, unit, findings);
  const stated = new Set<SheetStatement>(sheet.states);
  if (sheet.unit !== undefined) stated.add('unit');
  if (sheet.limits?.maximum !== undefined || sheet.limits?.minimum !== undefined) stated.add('limit');
  return {
    sides,
    findings,
    lacks: NEEDED_STATEMENTS.filter((one) => !stated.has(one)),
    ...(unit === undefined ? {} : { unit }),
  };
}

function unitFindings(sheet: Sheet, sides: SheetCheck['sides'], findings: SheetFinding[]): TensionUnit | undefined {
  const means = [sides.left?.mean, sides.right?.mean].filter((mean) => mean !== undefined);
  if (means.length === 0) return sheet.unit;
  const plausible = TENSION_UNITS.filter((unit) => {
    const inNewtons = means.map((mean) => tensionFrom(mean, unit) as number);
    const tighter = Math.max(...inNewtons);
    const within = (value: number, [low, high]: readonly [number, number]) => value >= low && value <= high;
    return within(tighter, TIGHTER_N) && inNewtons.every((value) => within(value, ANY_SIDE_N));
  });
  const beyond =
    sheet.limits && plausible.length > 1
      ? { beyond: plausible.map((unit) => [unit, rowsBeyond(sheet, unit).length] as const) }
      : {};
  if (sheet.unit === undefined) findings.push({ severity: 'fault', kind: 'unitMissing', plausible, ...beyond });
  else if (!plausible.includes(sheet.unit))
    findings.push({ severity: 'fault', kind: 'unitImplausible', stated: sheet.unit, plausible, ...beyond });
  if (sheet.unit !== undefined && plausible.includes(sheet.unit)) return sheet.unit;
  return plausible.length === 1 ? plausible[0] : sheet.unit;
}

/** Half a unit of the last digit written. */
const half = (decimals: number): number => 0.5 * 10 ** -decimals * (1 + 1e-9);

/** The table in the unit of a claim. */
interface ClaimedTable {
  readonly values: Readonly<Record<SheetClaim['of'], readonly number[]>>;
  /** Half a unit of its last digit. */
  readonly half: number;
}

function tableFor(claim: SheetClaim, sheet: Sheet, unit: TensionUnit | undefined): ClaimedTable {
  const scale =
    claim.percent || claim.unit === undefined || unit === undefined
      ? 1
      : tensionIn(newtons(tensionFrom(1, unit)), claim.unit);
  const shown = (side: readonly number[]) => side.map((value) => scale * value);
  const [left, right] = [shown(sheet.left), shown(sheet.right)];
  return { values: { left, right, wheel: [...left, ...right] }, half: scale * half(sheet.decimals) };
}

function meanFinding(claim: SheetClaim, { values, half: tableHalf }: ClaimedTable): SheetFinding {
  const mean = (of: readonly number[]) => of.reduce((sum, value) => sum + value, 0) / of.length;
  const own = values[claim.of];
  // Roundings of the table average out as 1/√n; two standard deviations of a uniform one stay below half a unit over √n.
  const tolerance = half(claim.decimals) + (COVERAGE * tableHalf) / Math.sqrt(own.length);
  const fits = (value: number) => Math.abs(value - claim.value) <= tolerance;
  const computed = mean(own);
  if (fits(computed)) return { severity: 'note', kind: 'meanFollows', claim };
  const others = {
    left: [['otherSide', values.right]],
    right: [['otherSide', values.left]],
    wheel: [
      ['leftSide', values.left],
      ['rightSide', values.right],
    ],
  } as const;
  const explains = fits(median(own))
    ? 'median'
    : [...others[claim.of], ['bothSides', values.wheel] as const].find(
        ([, side]) => side.length > 0 && fits(mean(side)),
      )?.[0];
  return { severity: 'fault', kind: 'meanDoesNotFollow', claim, computed, ...(explains ? { explains } : {}) };
}

function spreadFinding(claim: SheetClaim, table: ClaimedTable): SheetFinding {
  const own = table.values[claim.of];
  const mean = own.reduce((sum, value) => sum + value, 0) / own.length;
  const candidates = spreadValues(own).flatMap(({ definition, absolute, percent, rounding }) => {
    const value = claim.percent ? percent : absolute;
    if (value === undefined) return [];
    const tableHalf = table.half * rounding * (claim.percent ? 100 / mean : 1);
    return [{ definition, value, off: Math.abs(value - claim.value) - half(claim.decimals) - tableHalf }];
  });
  const definitions = candidates.filter((one) => one.off <= 0).map((one) => one.definition);
  if (definitions.length > 0) return { severity: 'note', kind: 'spreadFollows', claim, definitions };
  const nearest = candidates.reduce((best, one) => (one.off < best.off ? one : best));
  return {
    severity: 'fault',
    kind: 'spreadDoesNotFollow',
    claim,
    nearest: { definition: nearest.definition, value: nearest.value },
  };
}

function countFindings(sheet: Sheet, spokes: readonly LaidSpoke[], findings: SheetFinding[]): void {
  if (spokes.length === 0) return;
  for (const side of ['left', 'right'] as const) {
    const count = sheet[side].length;
    const described = spokes.filter((spoke) => spoke.side === side).length;
    if (count > 0 && count !== described)
      findings.push({
        severity: count > described ? 'fault' : 'note',
        kind: 'countDiffers',
        side,
        count,
        described,
      });
  }
}

const isUsualMaximum = (valueN: number): boolean => valueN >= TIGHTER_N[0] && valueN < UNUSUAL_MAXIMUM_N;
/** Held against such a limit every spoke or none would lie beyond it. */
const isImplausible = (maximumN: number): boolean => maximumN < TIGHTER_N[0] || maximumN >= 2 * UNUSUAL_MAXIMUM_N;

function limitFindings(sheet: Sheet, unit: TensionUnit, findings: SheetFinding[]): void {
  const { limits } = sheet;
  if (limits === undefined) return;
  const { maximum } = limitsIn(limits, unit);
  if (limits.maximum !== undefined && maximum !== undefined && isImplausible(maximum)) {
    const { maximum: figure, unit: stated = unit } = limits;
    const plausible = TENSION_UNITS.filter((one) => isUsualMaximum(tensionFrom(figure, one)));
    if (plausible.length > 0) {
      findings.push({ severity: 'fault', kind: 'limitImplausible', maximum: figure, stated, plausible });
      return;
    }
  }
  if (maximum !== undefined && maximum >= UNUSUAL_MAXIMUM_N)
    findings.push({ severity: 'note', kind: 'unusualLimit', maximumN: maximum });
  findings.push(...rowsBeyond(sheet, unit));
}

/** In newtons, were the table in that unit. */
const limitsIn = ({ minimum, maximum, unit: stated }: SheetLimits, unit: TensionUnit) => ({
  minimum: minimum === undefined ? undefined : tensionFrom(minimum, stated ?? unit),
  maximum: maximum === undefined ? undefined : tensionFrom(maximum, stated ?? unit),
});

type BeyondLimit = Extract<SheetFinding, { kind: 'beyondLimit' }>;

/** Rows beyond the stated limits, were the table in that unit. */
function rowsBeyond(sheet: Sheet, unit: TensionUnit): readonly BeyondLimit[] {
  const { minimum = Number.NEGATIVE_INFINITY, maximum = Number.POSITIVE_INFINITY } = limitsIn(sheet.limits ?? {}, unit);
  return (['left', 'right'] as readonly Side[]).flatMap((side) =>
    sheet[side].flatMap((value, index): readonly BeyondLimit[] => {
      const tensionN = newtons(tensionFrom(value, unit));
      return tensionN > maximum || tensionN < minimum
        ? [{ severity: 'note', kind: 'beyondLimit', side, index, tensionN }]
        : [];
    }),
  );
}
