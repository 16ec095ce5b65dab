import type { TableProblem } from './readTable.ts';

/** A line of somebody's table that could not be read, and why. */
export interface SheetProblem {
  readonly line: number;
  readonly reason:
    | TableProblem['reason']
    | 'noSides'
    /** A row of means or spreads: a claim, not a spoke. */
    | 'summaryRow'
    /** Several figures, and no head tells which is the tension. */
    | 'severalFigures'
    /** Several columns of tensions: which one is meant? */
    | 'severalTensions'
    | 'unitsMixed'
    | 'unitNotRead'
    | 'notPositive'
    /** Tones without a tension on their line. */
    | 'noTension';
  readonly detail: string;
}
