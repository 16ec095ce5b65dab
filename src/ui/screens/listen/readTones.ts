import { type Hertz, hertz } from '../../../units.ts';
import { parseDecimal } from '../describe/parseDecimal.ts';

/** No spoke rings outside these. `common practice` */
export const LOWEST_HZ = 50;
export const HIGHEST_HZ = 8000;

/** Frequencies set apart by spaces or semicolons. @returns ascending, or undefined where one of them is no tone of a spoke */
export function readTones(raw: string): readonly Hertz[] | undefined {
  const parts = raw.split(/[;\s]+/).filter((part) => part !== '');
  const tones = parts.map(parseDecimal);
  if (tones.length === 0 || tones.some((tone) => tone === undefined || tone < LOWEST_HZ || tone > HIGHEST_HZ))
    return undefined;
  return tones.map((tone) => hertz(tone ?? 0)).toSorted((a, b) => a - b);
}

/** What would be right. */
export const TONES_WANTED = `Frequencies from ${LOWEST_HZ} to ${HIGHEST_HZ} are needed, set apart by spaces or semicolons.`;
