import { plainFigures } from './plainFigures.ts';

/** How a table writes its figures. */
export type DecimalSign = ',' | '.';

/**
 * Reads one figure with the given decimal sign: digits of any usual script, see `plainFigures`; blanks, apostrophes and, between threes of digits, the other sign may group its digits.
 *
 * @returns undefined where it is no figure.
 */
export function parseFigure(raw: string, decimal: DecimalSign): number | undefined {
  const text = plainFigures(raw).replace(/[\s'’]/g, '');
  const pattern = decimal === ',' ? /^[+-]?(\d+(,\d*)?|,\d+)$/ : /^[+-]?(\d+(\.\d*)?|\.\d+)$/;
  const grouped = decimal === ',' ? /^[+-]?[1-9]\d{0,2}(\.\d{3})+(,\d*)?$/ : /^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d*)?$/;
  const plain = grouped.test(text) ? text.replaceAll(decimal === ',' ? '.' : ',', '') : text;
  return pattern.test(plain) ? Number(plain.replace(',', '.')) : undefined;
}

/** Reads a figure that stands alone, so that its decimal sign is its last one. @returns undefined where it is no figure. */
export function parseAlone(raw: string): number | undefined {
  const text = plainFigures(raw);
  return parseFigure(text, text.lastIndexOf(',') > text.lastIndexOf('.') ? ',' : '.');
}

/** `1,020` and `1.020` alone: a thousand and twenty, or little more than one. Nothing tells. */
export const maybeThousand = (raw: string): boolean => /^[1-9][.,]\d{3}$/.test(plainFigures(raw).trim());
