import type { SharedInput } from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';

/** One mode of one spoke as heard, several plucks merged. */
export interface FitLine {
  readonly table: ToneTable;
  /** Index in the table, from 0. */
  readonly mode: number;
  readonly lnF: number;
  /** Own standard uncertainty of ln f: the ear's and the model's own part. */
  readonly sigma: number;
  /** The model's own error in ln f that all spokes of the group share, 1 σ. */
  readonly model: number;
  /** Of the plane that is not the grid's: its ends are tied to that one's. */
  readonly tied: boolean;
}
export interface FitSpoke {
  readonly lines: readonly FitLine[];
  /** First guess, any. */
  readonly lnT: number;
  readonly known?: { readonly lnT: number; readonly sigma: number };
}
export interface FittedSpoke {
  readonly lnT: number;
  /** Variances of ln T: of what is the spoke's own, and of what the group shares. */
  readonly varOwn: number;
  readonly varCommon: number;
  /** Parts of the two by input. */
  readonly ownParts: Readonly<Record<'frequency' | 'hubEnd' | 'rimEnd' | 'calibration', number>>;
  readonly commonParts: Readonly<Record<SharedInput, number>>;
  /** ln f heard − modelled, in the order of the lines. */
  readonly residuals: Float64Array;
  /** Share of each line in the answer, summing to 1. */
  readonly gains: Float64Array;
}
