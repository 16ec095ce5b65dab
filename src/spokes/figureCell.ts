/** What stands in a cell beside its figure. */
export interface FigureCell {
  /** The figure as written. */
  readonly figure: string;
  /** Unit and the like behind it. */
  readonly unit: string;
}

/** Units of force as people write them behind a figure, for a pattern that ignores case. */
export const FORCE_WORDS = 'kgf|kg|kp|lbf|lbs?|N';
/** The same with that of tones. */
export const UNIT_WORDS = `${FORCE_WORDS}|Hz`;
/** A unit of force at the end of a text. */
export const FORCE_BEHIND = new RegExp(`\\s*(${FORCE_WORDS})$`, 'i');

const UNIT_BEHIND = new RegExp(`\\s*(${UNIT_WORDS})$`, 'i');
/** `± 20`, `+/- 1.5 %`: the author's own uncertainty, which the figure does not need. */
const UNCERTAINTY = /\s*(?:±|\+\s*\/?\s*[-−–])\s*[\d.,]+\s*%?$/;

/** Takes a cell such as `1020 N`, `1020 ± 30 N` or `1020 N ± 30` apart. */
export function figureCell(cell: string): FigureCell {
  const outer = withoutUnit(cell.trim());
  const inner = withoutUnit(outer.figure.replace(UNCERTAINTY, ''));
  return { figure: inner.figure.trim(), unit: [inner.unit, outer.unit].filter(Boolean).join(' ') };
}

const withoutUnit = (text: string): FigureCell => {
  const [behind, unit] = UNIT_BEHIND.exec(text) ?? ['', ''];
  return { figure: text.slice(0, text.length - behind.length), unit: unit ?? '' };
};
