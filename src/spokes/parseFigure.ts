/** How a table writes its figures. */
export type DecimalSign = ',' | '.';

/**
 * Reads one figure with the given decimal sign: blanks, apostrophes and no-break spaces may group its digits.
 *
 * @returns undefined where it is no figure.
 */
export function parseFigure(raw: string, decimal: DecimalSign): number | undefined {
  const text = raw
    .trim()
    .replace(/[\s\u00a0\u202f'’]/g, '')
    .replace('−', '-');
  const pattern = decimal === ',' ? /^[+-]?(\d+(,\d*)?|,\d+)$/ : /^[+-]?(\d+(\.\d*)?|\.\d+)$/;
  return pattern.test(text) ? Number(text.replace(',', '.')) : undefined;
}
