/** What stands in a cell beside its figure. */
export interface FigureCell {
  /** The figure as written. */
  readonly figure: string;
  /** Unit and the like behind it. */
  readonly unit: string;
}

const UNIT = /\s*(kgf|kg|kp|lbf|lbs?|N|Hz)$/i;
/** `± 20`, `+/- 1.5 %`: the author's own uncertainty, which the figure does not need. */
const UNCERTAINTY = /\s*(?:±|\+\s*\/?\s*[-−–])\s*[\d.,]+\s*%?$/;

/** Takes a cell such as `1020 N`, `1020 ± 30 N` or `1020 N ± 30` apart. */
export function figureCell(cell: string): FigureCell {
  const outer = cell.trim();
  const behind = UNIT.exec(outer)?.[1] ?? '';
  const sure = outer.slice(0, outer.length - (UNIT.exec(outer)?.[0].length ?? 0)).replace(UNCERTAINTY, '');
  const inner = UNIT.exec(sure);
  return {
    figure: sure.slice(0, sure.length - (inner?.[0].length ?? 0)).trim(),
    unit: [inner?.[1], behind].filter(Boolean).join(' '),
  };
}
