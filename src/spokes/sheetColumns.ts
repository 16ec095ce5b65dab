import type { TensionUnit } from '../units.ts';
import { sideIn } from './sideIn.ts';
import type { Side } from './wheel.ts';

/** What a column of a sheet holds, as its head says. */
export interface SheetColumn {
  readonly holds: 'tension' | 'tone' | 'place' | 'side' | 'other';
  readonly side?: Side;
  readonly unit?: TensionUnit;
}

const UNITS: readonly (readonly [RegExp, TensionUnit])[] = [
  [/\bkgf?\b|\bkp\b|\bkilopond\b/i, 'kgf'],
  [/\blb[fs]?\b|\bpounds?\b/i, 'lbf'],
  [/\bN\b|\bnewtons?\b/, 'N'],
];
/** Units of force that are not read: nothing is converted by guess. */
const OTHER_UNIT = /\b(kN|daN|dN|mN|cN|gf|ozf?)\b/;
/** What a text gives its figures in that is not read; a percentage beside a unit is a tolerance. */
export const otherUnitIn = (text: string): string | undefined =>
  OTHER_UNIT.exec(text)?.[1] ?? (unitIn(text) === undefined ? /%/.exec(text)?.[0] : undefined);

/** The unit that a title or a note names in so many words: a lone N in it may be a name's. */
export const unitInTitle = (text: string): TensionUnit | undefined => {
  const [, behind] = /(?:\bin\s+|[([]\s*)(N|kgf?|kp|lb[fs]?)\b/.exec(text) ?? [];
  const [word] = /\b(kgf|lbf|newtons?|kiloponds?)\b/i.exec(text) ?? [];
  return unitIn(behind ?? word?.toLowerCase() ?? '');
};

/** A force that is no spoke's tension, whatever its unit: an uncertainty, a limit, a difference. */
const BESIDE_TENSION =
  /^\W*u\b|uncertain|unsicherheit|incertitude|±|\blimit|\bmax(imum)?\b|\bmin(imum)?\b|\btarget|toleran|deviation|differ|abweichung|\bchange|\berror\b|\b(std|sd|s\.d\.)/i;

/** The unit of force that a text names. */
export const unitIn = (text: string): TensionUnit | undefined => UNITS.find(([word]) => word.test(text))?.[1];

/** Reads a head: which column is which. A column of tones has `Hz`, `tone`, `frequency`, `pitch` or `f1` in its head. */
export const sheetColumns = (head: readonly string[]): readonly SheetColumn[] =>
  head.map((cell): SheetColumn => {
    const named = sideIn(cell);
    const text = named ? named.rest : cell;
    const side = named ? { side: named.side } : {};
    if (/\bhz\b|\bhertz\b|\btones?\b|\bfreq|\bpitch\b|^f\s*\d*$/i.test(text.trim())) return { holds: 'tone', ...side };
    if (BESIDE_TENSION.test(text)) return { holds: 'other' };
    const unit = unitIn(text);
    if (unit !== undefined || /\btension\b|\bforce\b|\bspannung\b|\bkraft\b|\btensione?\b/i.test(text))
      return { holds: 'tension', ...side, ...(unit ? { unit } : {}) };
    if (/^(side|seite|côté|cote|lado|lato)$/i.test(text.trim())) return { holds: 'side' };
    if (
      /^(spoke|no\.?|nr\.?|number|place|#|n°|speiche|rayon|raggio|radio|raio|spaak|eker|eger|eike)(\s*(no\.?|nr\.?|number|#|n°))?$/i.test(
        text.trim(),
      )
    )
      return { holds: 'place' };
    return named ? { holds: 'tension', ...side } : { holds: 'other' };
  });
