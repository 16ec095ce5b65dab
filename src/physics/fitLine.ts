import { LINE_SIZE, lineAt } from './lineAt.ts';
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

const read = new Float64Array(LINE_SIZE);

/** The spoke's own ln T at a node, all errors at zero: a few Newton steps on weighted residuals, each at most a factor of two. */
export const tensionAtNode = (spoke: FitSpoke, node: number, start: number): number => {
  if (spoke.lines.length === 0) return spoke.known?.lnT ?? start;
  let lnT = start;
  for (let step = 0; step < 4; step++) {
    let top = 0;
    let bottom = 1e-12;
    for (const line of spoke.lines) {
      lineAt(line.table, node, line.mode, lnT, read);
      const w = 1 / line.sigma ** 2;
      top += w * (read[1] as number) * (line.lnF - (read[0] as number));
      bottom += w * (read[1] as number) ** 2;
    }
    const change = Math.min(Math.max(top / bottom, -0.7), 0.7);
    lnT += change;
    if (Math.abs(change) < 1e-3) break;
  }
  return lnT;
};
