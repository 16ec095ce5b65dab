/**
 * Reads a figure as a person types it: comma or point, spaces between groups of digits, a sign.
 * Both signs at once are refused rather than guessed: `1.234,5` and `1,234.5` mean different things in different countries.
 * @returns undefined where it is no figure
 */
export function parseDecimal(raw: string): number | undefined {
  const text = raw.replace(/[\s\u00a0\u202f']/g, '').replace('−', '-');
  if (!/^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text)) return undefined;
  return Number(text.replace(',', '.'));
}
