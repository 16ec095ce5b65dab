/** A cell that a spreadsheet would run as a formula is shown as text instead. @source OWASP, CSV injection */
const FORMULA = /^[=+\-@\t\r]/;

/**
 * A table as CSV: comma, CRLF, quotes where a cell needs them, figures with a decimal point.
 *
 * @source RFC 4180, section 2
 */
export function toCsv(rows: readonly (readonly (string | number | undefined)[])[]): string {
  const cell = (value: string | number | undefined): string => {
    if (value === undefined) return '';
    if (typeof value === 'number') return Number.isFinite(value) ? `${value}` : '';
    const safe = FORMULA.test(value) ? `'${value}` : value;
    return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}
