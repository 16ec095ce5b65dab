import type { Interval } from '../../../spokes/interval.ts';
import { newtons, type TensionUnit, tensionIn } from '../../../units.ts';

const digitsOf = (unit: TensionUnit): number => (unit === 'N' ? 0 : 1);
const minus = (text: string): string => (Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−'));

/** A force in the unit chosen, without its name. */
export const inUnit = (valueN: number, unit: TensionUnit, more = 0): string =>
  Number.isFinite(valueN) ? minus(tensionIn(newtons(valueN), unit).toFixed(digitsOf(unit) + more)) : '∞';

/** Same with a sign in front. */
export const signedInUnit = (valueN: number, unit: TensionUnit): string => {
  const text = inUnit(valueN, unit);
  return valueN > 0 && Number(text) !== 0 ? `+${text}` : text;
};

/** An estimate with its 95 % interval. */
export const intervalInUnit = ({ value, low, high }: Interval, unit: TensionUnit): string =>
  `${signedInUnit(value, unit)} (${signedInUnit(low, unit)} to ${signedInUnit(high, unit)})`;

/** A pure number with its 95 % interval. */
export const intervalText = ({ value, low, high }: Interval, digits = 3): string => {
  const shown = (one: number) => (Number.isFinite(one) ? minus(one.toFixed(digits)) : one > 0 ? '∞' : '−∞');
  return `${shown(value)} (${shown(low)} to ${shown(high)})`;
};
