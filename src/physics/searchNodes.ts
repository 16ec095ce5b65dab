import { lnFrequencyAt, lnTensionAt, middleOf } from './lineAt.ts';
import type { ToneTable } from './toneTable.ts';

/** Nodes whose tones, for the same first one, differ by less than this in ln f look alike to a search. */
const ALIKE = 0.006;
/** Tensions at the middle node that fix the first tones at which nodes are compared, N. */
const COMPARED_AT = [150, 600, 1500];
const COMPARED_MODES = 4;

/**
 * A few nodes that stand for all in a search: every node has one among them with nearly the same ratios of tones. On steel what the two
 * ends add up to hardly shows in the ratios and three or four are enough; members with heavy or stiff ends need more.
 */
export const searchNodes = (table: ToneTable): number[] => {
  const nodes = table.hub.lnK.length * table.rim.lnK.length;
  const middle = middleOf(table);
  const signatures: number[][] = [];
  for (let node = 0; node < nodes; node++) {
    const signature: number[] = [];
    for (const tension of COMPARED_AT) {
      const first = lnFrequencyAt(table, middle, 0, Math.log(tension));
      const lnT = lnTensionAt(table, node, 0, first) ?? table.lnTStart;
      for (let m = 1; m < Math.min(COMPARED_MODES, table.modes); m++)
        signature.push(lnFrequencyAt(table, node, m, lnT) - lnFrequencyAt(table, node, 0, lnT));
    }
    signatures.push(signature);
  }
  const distance = (a: readonly number[], b: readonly number[]): number => {
    let most = 0;
    for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs((a[i] as number) - (b[i] as number)));
    return most;
  };
  // Farthest-point selection: always the node that is least like those taken.
  const picked = [middle];
  const nearest = signatures.map((s) => distance(s, signatures[middle] as number[]));
  for (;;) {
    let farthest = 0;
    nearest.forEach((d, node) => {
      if (d > (nearest[farthest] as number)) farthest = node;
    });
    if ((nearest[farthest] as number) < ALIKE) return picked;
    picked.push(farthest);
    signatures.forEach((s, node) => {
      nearest[node] = Math.min(nearest[node] as number, distance(s, signatures[farthest] as number[]));
    });
  }
};
