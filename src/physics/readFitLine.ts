import type { FitLine } from './fitLine.ts';
import { holdOf, varianceWithPartner, withHold } from './holdErrors.ts';
import { LINE, lineAt } from './lineAt.ts';
import { MODEL, modelErrorOf, writeSensitivities } from './sharedErrors.ts';

/**
 * A line of a fit at a node of the ends and a tension.
 * @param read receives the table's entries, in the order of `LINE`
 * @param row SHARED long, receives ∂ln f/∂(shared error), those of the model in units of their σ
 * @returns variance of ln f that is the spoke's own
 */
export const readFitLine = (
  line: FitLine,
  node: number,
  lnT: number,
  read: Float64Array,
  row: Float64Array,
): number => {
  lineAt(line.table, node, line.mode, lnT, read);
  const hold = holdOf(line.table, node);
  row.fill(0, MODEL);
  writeSensitivities(read, line.tied, hold, row, 0);
  row[modelErrorOf(line.mode, line.tied)] = withHold(line.table, node, line.model, read);
  return varianceWithPartner(line.sigma, hold, read[LINE.first] as number);
};
