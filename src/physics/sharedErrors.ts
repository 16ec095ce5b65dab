import { HELD_DISCREPANCY, holdOf, MOVING_MASS, massSlope } from './holdErrors.ts';
import { LINE_SIZE, lineAt } from './lineAt.ts';
import type { MemberUncertainty } from './member.ts';
import type { ToneTable } from './toneTable.ts';

/**
 * The errors that spokes of a group share, in order: mass, length, crossing, stiffness, ln of the second support and of the first axis
 * (`ToneTable.firstAxis`: the hub's end, or what holds the crossing), ln k of the rim's end, the same of the other plane against this one,
 * where the longest piece begins and ends, the mass that moves with a held crossing, bending stiffness of the other plane against this one, what a held crossing's model is off by as a whole, how much fibre composite
 * gives way in shear, and the model's own error by mode (the other plane's last).
 */
export const MASS = 0;
const CROSSING = 2;
export const STIFFNESS = 3;
const SECOND = 4;
export const HUB = 5;
export const RIM = 6;
export const TIE_HUB = 7;
export const TIE_RIM = 8;
const HUB_PIECE = 9;
const RIM_PIECE = 10;
export const HOLD_MASS = 11;
const TIE_STIFFNESS = 12;
const DISCREPANCY = 13;
const SHEAR = 14;
export const MODEL = 15;
const MODEL_MODES = 8;
const TIED_MODES = 3;
export const SHARED = MODEL + MODEL_MODES + TIED_MODES;

export type SharedInput =
  | 'mass'
  | 'length'
  | 'crossing'
  | 'sections'
  | 'stiffness'
  | 'second'
  | 'hubEnd'
  | 'rimEnd'
  | 'shear'
  | 'model';
const INPUT: readonly SharedInput[] = [
  'mass',
  'length',
  'crossing',
  'stiffness',
  'second',
  'hubEnd',
  'rimEnd',
  'hubEnd',
  'rimEnd',
  'sections',
  'sections',
  'second',
  'stiffness',
  'model',
  'shear',
];
export const inputOf = (p: number): SharedInput => INPUT[p] ?? 'model';

/** Scatter of ln k from spoke to spoke, each end. @source own finite-element trial, 15 %; no published value */
export const END_SCATTER = 0.15;
/** Where butts and bonded ends end, m, if nobody says how sure that is: a taper has no edge to lay a ruler on. */
const PIECES = 0.0015;
/** How far the ends of the two planes may differ, 1 σ of ln k: no published value; an elbow or a slot in the rim's wall holds one plane firmer. */
const TIE = 0.9;
/**
 * Relative, of the shear compliance 1/(κGA) of fibre composite, 1 σ: none at all lies at 2 σ. No spoke's has been measured; published moduli of one
 * class of fibre differ by a factor of 1.8 (4.0 to 7.2 GPa of carbon), and nobody tells the resin of a pultruded rod.
 */
const SHEAR_UNKNOWN = 0.5;

/** Which shared errors can move any of the spokes' tones: an uncrossed side has no crossing, one plane alone no tie. */
export const activeErrors = (
  spokes: readonly { readonly lines: readonly { readonly mode: number; readonly tied: boolean }[] }[],
  grid: ToneTable,
): number[] => {
  const lines = spokes.flatMap((spoke) => spoke.lines);
  const ofMode = new Set(lines.map(({ mode, tied }) => modelErrorOf(mode, tied)));
  const anyTied = lines.some(({ tied }) => tied);
  const crossed = grid.firstAxis === 'support';
  return Array.from({ length: SHARED }, (_, p) => p).filter((p) => {
    if (p >= MODEL) return ofMode.has(p);
    if (p === SHEAR) return grid.shears;
    if (p === CROSSING || p === SECOND || p === HOLD_MASS || p === DISCREPANCY) return crossed;
    return anyTied || (p !== TIE_HUB && p !== TIE_RIM && p !== TIE_STIFFNESS);
  });
};

const read = new Float64Array(LINE_SIZE);

/**
 * What is believed of a side's tension before it is heard: about 800 N within a factor of 1.6 (σ = 0.5 in ln T), with heavy tails. It
 * matters only where the tones say next to nothing of tension (stiff members with few tones). @source common practice, 500–1300 N
 */
export const ORDINARY = { lnT: Math.log(800) };
/** Weight of that belief about ln T, as under Student's t with 4 degrees of freedom: it lets go of a slack spoke. */
export const ordinaryWeight = (lnT: number): number => {
  const z = (lnT - ORDINARY.lnT) / 0.5;
  return (4 * 5) / (4 + z * z);
};

export interface Normal {
  readonly mean: number;
  readonly sigma: number;
}
/** What is known of the shared errors beforehand. */
export interface SharedPrior {
  readonly mean: Float64Array;
  readonly sigma: Float64Array;
}

export const sharedPrior = (
  grid: ToneTable,
  uncertainty: MemberUncertainty,
  mass?: Normal,
  stiffness?: Normal,
): SharedPrior => {
  const mean = new Float64Array(SHARED);
  const sigma = new Float64Array(SHARED);
  mean[MASS] = mass?.mean ?? 0;
  sigma[MASS] = mass?.sigma ?? uncertainty.massRelative;
  sigma[1] = uncertainty.length;
  sigma[2] = uncertainty.crossing;
  mean[STIFFNESS] = stiffness?.mean ?? 0;
  sigma[STIFFNESS] = stiffness?.sigma ?? uncertainty.stiffnessRelative;
  sigma[4] = grid.secondSigma;
  sigma[HUB] = grid.hub.sigma;
  sigma[RIM] = grid.rim.sigma;
  sigma[TIE_HUB] = TIE;
  sigma[TIE_RIM] = TIE;
  sigma[HUB_PIECE] = uncertainty.sections ?? PIECES;
  sigma[RIM_PIECE] = uncertainty.sections ?? PIECES;
  sigma[HOLD_MASS] = grid.firstAxis === 'support' ? MOVING_MASS : 0;
  sigma[TIE_STIFFNESS] = sigma[STIFFNESS] as number;
  sigma[SHEAR] = grid.shears ? SHEAR_UNKNOWN : 0;
  sigma[DISCREPANCY] = grid.firstAxis === 'support' ? HELD_DISCREPANCY : 0;
  sigma.fill(1, MODEL);
  return { mean, sigma: sigma.map((s) => Math.max(s, 1e-7)) };
};

/** The shared error that is the model's own for a mode; the other plane has its own. */
export const modelErrorOf = (mode: number, tied: boolean): number =>
  tied ? MODEL + MODEL_MODES + Math.min(mode, TIED_MODES - 1) : MODEL + Math.min(mode, MODEL_MODES - 1);

/** ∂ln f/∂(shared error) from a line read by `lineAt`, written into `out` from `at`: the first `MODEL` of them. */
export const writeSensitivities = (
  read: Float64Array,
  tied: boolean,
  hold: number,
  out: Float64Array,
  at: number,
): void => {
  out[at] = read[10] as number;
  for (let p = 1; p <= 6; p++) out[at + p] = read[p + 1] as number;
  out[at + TIE_HUB] = tied ? (read[6] as number) : 0;
  out[at + TIE_RIM] = tied ? (read[7] as number) : 0;
  out[at + HUB_PIECE] = read[8] as number;
  out[at + RIM_PIECE] = read[9] as number;
  out[at + TIE_STIFFNESS] = tied ? (read[4] as number) : 0;
  out[at + DISCREPANCY] = hold === Number.POSITIVE_INFINITY ? 0 : -0.5;
  out[at + SHEAR] = read[11] as number;
  out[at + HOLD_MASS] = massSlope(read[0] as number, read[6] as number, hold);
};

/**
 * How far a mode of the other plane may lie from where this plane's ends and stiffness put it, 1 σ of ln f.
 * @param stiffness relative uncertainty of one plane's bending against the other's
 */
export const tieSigma = (table: ToneTable, node: number, mode: number, lnT: number, stiffness: number): number => {
  lineAt(table, node, mode, lnT, read);
  return Math.hypot(TIE * Math.hypot(read[6] as number, read[7] as number), stiffness * (read[4] as number));
};

const row = new Float64Array(MODEL);
/** How surely a mode's place is known once a side has taught its shared errors, 1 σ of ln f at a given tension. */
export const taughtSigma = (
  table: ToneTable,
  node: number,
  mode: number,
  lnT: number,
  covariance: Float64Array,
  tied: boolean,
): number => {
  lineAt(table, node, mode, lnT, read);
  writeSensitivities(read, tied, holdOf(table, node), row, 0);
  let variance = END_SCATTER ** 2 * ((read[6] as number) ** 2 + (read[7] as number) ** 2);
  for (let p = 0; p < MODEL; p++)
    for (let q = 0; q < MODEL; q++)
      variance += (row[p] as number) * (covariance[p * SHARED + q] as number) * (row[q] as number);
  return Math.sqrt(Math.max(variance, 0));
};

/** ln f of a mode at a node with the shared errors applied (those of the model by mode left out). */
export const modelled = (
  table: ToneTable,
  node: number,
  mode: number,
  lnT: number,
  errors: Float64Array,
  tied: boolean,
): number => {
  lineAt(table, node, mode, lnT, read);
  let value = (read[0] as number) + (errors[0] as number) * (read[10] as number);
  for (let p = 1; p <= 4; p++) value += (errors[p] as number) * (read[p + 1] as number);
  value += ((errors[HUB] as number) + (tied ? (errors[TIE_HUB] as number) : 0)) * (read[6] as number);
  if (tied) value += (errors[TIE_STIFFNESS] as number) * (read[4] as number);
  if (table.firstAxis === 'support') value -= 0.5 * (errors[DISCREPANCY] as number);
  value += (errors[HUB_PIECE] as number) * (read[8] as number) + (errors[RIM_PIECE] as number) * (read[9] as number);
  if (table.shears) value += (errors[SHEAR] as number) * (read[11] as number);
  value += (errors[HOLD_MASS] as number) * massSlope(read[0] as number, read[6] as number, holdOf(table, node));
  return value + ((errors[RIM] as number) + (tied ? (errors[TIE_RIM] as number) : 0)) * (read[7] as number);
};
