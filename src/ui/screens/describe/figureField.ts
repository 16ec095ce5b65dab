import {
  type LengthUnit,
  lengthFrom,
  lengthIn,
  metres,
  newtons,
  type TensionUnit,
  tensionFrom,
  tensionIn,
} from '../../../units.ts';
import { parseDecimal } from './parseDecimal.ts';

/** How a figure is typed and kept. Lengths are kept in millimetres, tensions in newtons. */
export type Quantity =
  | 'length'
  | 'tension'
  | 'whole'
  | 'percent'
  | 'mass'
  | 'pressure'
  | 'temperature'
  | 'modulus'
  | 'density'
  | 'angle';

export interface FigureField {
  /** Into the wheel. */
  readonly path: string;
  readonly label: string;
  readonly quantity: Quantity;
  /** Both inclusive, in the unit kept. */
  readonly low: number;
  readonly high: number;
  readonly optional?: boolean;
  readonly effect?: string;
}

export interface Units {
  readonly length: LengthUnit;
  readonly tension: TensionUnit;
}

export function unitOf(quantity: Quantity, units: Units): string {
  switch (quantity) {
    case 'length':
      return units.length;
    case 'tension':
      return units.tension;
    case 'whole':
      return '';
    case 'percent':
      return '%';
    case 'mass':
      return 'g';
    case 'pressure':
      return 'bar';
    case 'temperature':
      return '°C';
    case 'modulus':
      return 'GPa';
    case 'density':
      return 'kg/m³';
    case 'angle':
      return '°';
  }
}

/** From the unit shown to the unit kept. */
function kept(value: number, quantity: Quantity, units: Units): number {
  if (quantity === 'length') return units.length === 'mm' ? value : lengthFrom(value, units.length) * 1000;
  if (quantity === 'tension') return tensionFrom(value, units.tension);
  return value;
}

function shown(value: number, quantity: Quantity, units: Units): number {
  if (quantity === 'length') return units.length === 'mm' ? value : lengthIn(metres(value / 1000), units.length);
  if (quantity === 'tension') return tensionIn(newtons(value), units.tension);
  return value;
}

/** As short as it can be without losing what a ruler or a maker's sheet resolves. */
export function showFigure(value: number, quantity: Quantity, units: Units): string {
  const figure = shown(value, quantity, units);
  const digits = quantity === 'length' ? (units.length === 'in' ? 4 : 2) : quantity === 'tension' ? 0 : 2;
  return String(Number(figure.toFixed(digits)));
}

/** The same with its unit, where it has one. */
export const showWithUnit = (value: number, quantity: Quantity, units: Units): string =>
  `${showFigure(value, quantity, units)} ${unitOf(quantity, units)}`.trim();

export type FigureRead =
  | { readonly ok: true; readonly value: number | undefined }
  | { readonly ok: false; readonly wrong: string };

/** Reads what was typed; says what is wrong and what would be right. */
export function readFigure(raw: string, field: FigureField, units: Units): FigureRead {
  const unit = unitOf(field.quantity, units);
  const range = `${showFigure(field.low, field.quantity, units)} to ${showFigure(field.high, field.quantity, units)}${unit === '' ? '' : ` ${unit}`}`;
  if (raw.trim() === '') {
    return field.optional === true
      ? { ok: true, value: undefined }
      : { ok: false, wrong: `A figure is needed here: ${range}.` };
  }
  const typed = parseDecimal(raw);
  if (typed === undefined)
    return { ok: false, wrong: `“${raw.trim()}” is no figure; something like ${example(field, units)} would be.` };
  if (field.quantity === 'whole' && !Number.isInteger(typed))
    return { ok: false, wrong: `A whole number is needed: ${range}.` };
  const value = kept(typed, field.quantity, units);
  if (value < field.low || value > field.high)
    return {
      ok: false,
      wrong: `${raw.trim()} ${value < field.low ? 'is too small' : 'is too large'}; right would be ${range}.`,
    };
  return { ok: true, value };
}

const example = (field: FigureField, units: Units): string => {
  const middle = Math.min(field.high, Math.max(field.low, (field.low + field.high) / 2));
  return field.quantity === 'whole' ? String(Math.round(middle)) : showFigure(middle, field.quantity, units);
};
