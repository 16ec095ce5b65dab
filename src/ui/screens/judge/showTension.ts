import { newtons, type TensionUnit, tensionIn } from '../../../units.ts';

export interface ShownFigure {
  readonly value: string;
  readonly plusMinus: string;
  readonly unit: TensionUnit | '%';
}

/** Below this half width in the shown unit a decimal carries something. */
const FINE = 2;

/** A tension with its expanded uncertainty, rounded alike, in the unit chosen. */
export function showTension(tensionN: number, expandedN: number, unit: TensionUnit): ShownFigure {
  const half = tensionIn(newtons(expandedN), unit);
  const digits = half < FINE ? 1 : 0;
  return { value: tensionIn(newtons(tensionN), unit).toFixed(digits), plusMinus: half.toFixed(digits), unit };
}

/** A tension alone. */
export const tensionText = (tensionN: number, unit: TensionUnit): string =>
  `${tensionIn(newtons(tensionN), unit).toFixed(0)} ${unit}`;

/** A percentage with its sign. */
export const signed = (percent: number, digits = 1): string => {
  const text = Math.abs(percent).toFixed(digits);
  return Number(text) === 0 ? text : `${percent < 0 ? '−' : '+'}${text}`;
};
