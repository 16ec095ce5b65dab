import type { FitLine, FitSpoke } from './fitLine.ts';
import { LINE, LINE_SIZE } from './lineAt.ts';
import { readFitLine } from './readFitLine.ts';
import { ORDINARY, ordinaryWeight, SHARED, type SharedPrior } from './sharedErrors.ts';

/** What is each spoke's own: ln T, and the departures of its hub's and its rim's end from the side's. */
export const OWN = 3;

/**
 * The normal equations of a group at one node of the ends, all tones linear about `at`: sums over lines, in which the scatter of the ends
 * has no part yet. P is the number of active errors.
 */
export interface NodeSums {
  /** ln T of each spoke about which its tones are linear. */
  readonly at: Float64Array;
  /** Of each spoke OWN × OWN, OWN, and OWN × P: its own block, right side, and coupling to the shared errors. */
  readonly block: Float64Array;
  readonly right: Float64Array;
  readonly coupling: Float64Array;
  /** Information on each spoke's ln T if the ends were known, and the part of it from a known tension. */
  readonly pure: Float64Array;
  readonly calibration: Float64Array;
  /** P × P (lower triangle) and P: information on the shared errors with their prior, and its right side. */
  readonly information: Float64Array;
  readonly shared: Float64Array;
  /** Σ w·r², ln |Σ| of all noise and priors, and how many observations. */
  readonly constant: number;
  readonly lnDeterminants: number;
  readonly observations: number;
}

const read = new Float64Array(LINE_SIZE);
const row = new Float64Array(SHARED);
// Which of the active errors move a line, and its slopes against them.
const mover = new Int32Array(SHARED);
const slope = new Float64Array(SHARED);
// Σ w·r² and −Σ ln w of the node in work.
const totals = new Float64Array(2);

/**
 * Adds up the lines of all spokes at a node.
 * @param starts ln T of each spoke
 * @param active the shared errors that move any tone here; the others stay as they are believed
 */
export const sumNode = (
  spokes: readonly FitSpoke[],
  node: number,
  starts: readonly number[],
  prior: SharedPrior,
  active: readonly number[],
): NodeSums => {
  const P = active.length;
  const count = spokes.length;
  const sums = {
    at: Float64Array.from(starts),
    block: new Float64Array(count * OWN * OWN),
    right: new Float64Array(count * OWN),
    coupling: new Float64Array(count * OWN * P),
    pure: new Float64Array(count),
    calibration: new Float64Array(count),
    information: new Float64Array(P * P),
    shared: new Float64Array(P),
  };
  const { block, right, pure, calibration, information, shared } = sums;
  let observations = 0;
  totals.fill(0);
  for (let p = 0; p < P; p++) {
    const mean = prior.mean[active[p] as number] as number;
    const w = 1 / (prior.sigma[active[p] as number] as number) ** 2;
    information[p * P + p] = w;
    shared[p] = w * mean;
    observe(w, mean);
  }
  for (let i = 0; i < count; i++) {
    const { lines, known } = spokes[i] as FitSpoke;
    const at = starts[i] as number;
    const a = i * OWN * OWN;
    const weak = ordinaryWeight(at) / count;
    block[a] = weak;
    right[i * OWN] = weak * (ORDINARY.lnT - at);
    totals[0] = (totals[0] as number) + weak * (ORDINARY.lnT - at) ** 2;
    if (known !== undefined) {
      const w = 1 / known.sigma ** 2;
      block[a] = (block[a] as number) + w;
      right[i * OWN] = (right[i * OWN] as number) + w * (known.lnT - at);
      observe(w, known.lnT - at);
      calibration[i] = w;
      observations++;
    }
    for (const line of lines) addLine(line, node, at, active, i, sums);
    observations += lines.length;
    block[a + 3] = block[a + 1] as number;
    block[a + 6] = block[a + 2] as number;
    block[a + 7] = block[a + 5] as number;
    pure[i] = block[a] as number;
  }
  return { ...sums, constant: totals[0] as number, lnDeterminants: totals[1] as number, observations };
};

const observe = (w: number, residual: number): void => {
  totals[0] = (totals[0] as number) + w * residual * residual;
  totals[1] = (totals[1] as number) - Math.log(w);
};

const addLine = (
  line: FitLine,
  node: number,
  at: number,
  active: readonly number[],
  i: number,
  { block, right, coupling, information, shared }: Omit<NodeSums, 'constant' | 'lnDeterminants' | 'observations'>,
): void => {
  const P = active.length;
  const w = 1 / readFitLine(line, node, at, read, row);
  const j = read[LINE.slope] as number;
  const hub = read[LINE.first] as number;
  const rim = read[LINE.rimEnd] as number;
  const residual = line.lnF - (read[LINE.lnF] as number);
  observe(w, residual);
  const a = i * OWN * OWN;
  block[a] = (block[a] as number) + w * j * j;
  block[a + 1] = (block[a + 1] as number) + w * j * hub;
  block[a + 2] = (block[a + 2] as number) + w * j * rim;
  block[a + 4] = (block[a + 4] as number) + w * hub * hub;
  block[a + 5] = (block[a + 5] as number) + w * hub * rim;
  block[a + 8] = (block[a + 8] as number) + w * rim * rim;
  const b = i * OWN;
  right[b] = (right[b] as number) + w * j * residual;
  right[b + 1] = (right[b + 1] as number) + w * hub * residual;
  right[b + 2] = (right[b + 2] as number) + w * rim * residual;
  let movers = 0;
  for (let p = 0; p < P; p++) {
    const s = row[active[p] as number] as number;
    if (s === 0) continue;
    slope[movers] = s;
    mover[movers++] = p;
  }
  const c = i * OWN * P;
  for (let m = 0; m < movers; m++) {
    const p = mover[m] as number;
    const ws = w * (slope[m] as number);
    coupling[c + p] = (coupling[c + p] as number) + ws * j;
    coupling[c + P + p] = (coupling[c + P + p] as number) + ws * hub;
    coupling[c + 2 * P + p] = (coupling[c + 2 * P + p] as number) + ws * rim;
    shared[p] = (shared[p] as number) + ws * residual;
    for (let k = 0; k <= m; k++) {
      const h = p * P + (mover[k] as number);
      information[h] = (information[h] as number) + ws * (slope[k] as number);
    }
  }
};
