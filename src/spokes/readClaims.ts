import { FORCE_WORDS } from './figureCell.ts';
import { maybeThousand, parseAlone } from './parseFigure.ts';
import { plainFigures } from './plainFigures.ts';
import type { SheetClaim } from './sheet.ts';
import { unitIn } from './sheetColumns.ts';

const PERCENT_OR_FORCE = new RegExp(`\\s*(%|${FORCE_WORDS})$`, 'i');

/**
 * Claimed means or spreads as they stand on a sheet: several divided by semicolons, a percentage with its sign, decimals and unit as written.
 *
 * @returns What could be read, and what could not, as written.
 */
export function readClaims(
  text: string,
  of: SheetClaim['of'],
  what: SheetClaim['what'],
): { readonly claims: readonly SheetClaim[]; readonly wrong: readonly string[] } {
  const claims: SheetClaim[] = [];
  const wrong: string[] = [];
  for (const part of plainFigures(text).split(/[;\n]/)) {
    const written = part.trim();
    if (written === '') continue;
    const bare = written.replace(/^±\s*/, '').replace(PERCENT_OR_FORCE, '');
    const unit = unitIn(written.replace(/^.*\d\s*/, ''));
    const value = parseAlone(bare);
    const percent = written.endsWith('%');
    // No spread reaches a thousand; a mean may.
    const unclear = what === 'mean' && maybeThousand(bare);
    if (value === undefined || value < 0 || unclear || (percent && what === 'mean')) wrong.push(written.slice(0, 40));
    else {
      const decimals = /[.,](\d+)\s*$/.exec(bare)?.[1]?.length ?? 0;
      claims.push({ of, what, value, decimals, percent, ...(unit === undefined ? {} : { unit }) });
    }
  }
  return { claims, wrong };
}
