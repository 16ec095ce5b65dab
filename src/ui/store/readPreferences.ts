import { TENSION_UNITS } from '../../units.ts';
import { DEFAULT_PREFERENCES, type Preferences } from './preferences.ts';

const CHOICES: { readonly [Key in keyof Preferences]?: readonly Preferences[Key][] } = {
  tensionUnit: TENSION_UNITS,
  lengthUnit: ['mm', 'in'],
  theme: ['system', 'light', 'dark', 'sunlight'],
  hand: ['right', 'left'],
  order: ['byPlace', 'leftThenRight', 'rightThenLeft', 'free'],
};
/** More plucks than this would only tire. */
export const MOST_PLUCKS_TO_SETTLE = 6;

/** Takes from what was kept every preference that is one, and the default for the rest. Never throws. */
export function readPreferences(kept: unknown): Preferences {
  if (typeof kept !== 'object' || kept === null) return DEFAULT_PREFERENCES;
  const found = kept as Readonly<Record<string, unknown>>;
  const read = Object.entries(DEFAULT_PREFERENCES).map(([key, usual]) => [
    key,
    isFit(key as keyof Preferences, found[key], usual) ? found[key] : usual,
  ]);
  const lastBackupAt = typeof found.lastBackupAt === 'string' ? { lastBackupAt: found.lastBackupAt } : {};
  return { ...(Object.fromEntries(read) as unknown as Preferences), ...lastBackupAt };
}

function isFit(key: keyof Preferences, value: unknown, usual: unknown): boolean {
  const choices = CHOICES[key];
  if (choices) return (choices as readonly unknown[]).includes(value);
  if (key === 'plucksToSettle')
    return Number.isInteger(value) && (value as number) >= 1 && (value as number) <= MOST_PLUCKS_TO_SETTLE;
  return typeof value === typeof usual;
}

/** Unfinished forms as they were kept: names of fields and their raw text. */
export function readDrafts(kept: unknown): Readonly<Record<string, Readonly<Record<string, string>>>> {
  if (typeof kept !== 'object' || kept === null) return {};
  const forms = Object.entries(kept).filter(
    ([, fields]) =>
      typeof fields === 'object' && fields !== null && Object.values(fields).every((text) => typeof text === 'string'),
  );
  return Object.fromEntries(forms);
}
