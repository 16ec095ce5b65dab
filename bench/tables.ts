/** The value below which a part `p` of them lies. */
export const quantile = (values: readonly number[], p: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * p))] ?? Number.NaN;
};
/** As per cent. */
export const pc = (value: number, digits = 2): string => (100 * value).toFixed(digits);
/** Prints a table, its columns as wide as they must be. */
export const table = (title: string, head: readonly string[], rows: readonly (readonly string[])[]): void => {
  console.log(`\n${title}`);
  const width = head.map((h, i) => Math.max(h.length, ...rows.map((r) => (r[i] ?? '').length)));
  const line = (cells: readonly string[]): string =>
    cells.map((c, i) => (i === 0 ? c.padEnd(width[i] ?? 0) : c.padStart(width[i] ?? 0))).join('  ');
  console.log(line(head));
  for (const row of rows) console.log(line(row));
};
