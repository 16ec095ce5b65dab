import { LINE_SIZE, lineAt } from './lineAt.ts';
import type { MemberUncertainty } from './member.ts';
import type { ToneTable } from './toneTable.ts';

/**
 * The errors that spokes of a group share, in order: mass, length, crossing, stiffness, the crossing's support, ln k of the hub's and of
 * the rim's end, the same of the other plane against this one, and the model's own error by mode.
 */
export const MASS = 0;
export const STIFFNESS = 3;
export const HUB = 5;
export const RIM = 6;
export const TIE_HUB = 7;
export const TIE_RIM = 8;
export const MODEL = 9;
const MODEL_MODES = 8;
export const SHARED = MODEL + MODEL_MODES;

export type SharedInput = 'mass' | 'length' | 'crossing' | 'stiffness' | 'hubEnd' | 'rimEnd' | 'model';
const INPUT: readonly SharedInput[] = [
  'mass',
  'length',
  'crossing',
  'stiffness',
  'crossing',
  'hubEnd',
  'rimEnd',
  'hubEnd',
  'rimEnd',
];
export const inputOf = (p: number): SharedInput => INPUT[p] ?? 'model';

/** Scatter of ln k from spoke to spoke, each end. @source own finite-element trial, 15 %; no published value */
export const END_SCATTER = 0.15;
/** How far the ends of the two planes may differ, 1 σ of ln k. */
const TIE = 0.4;
/** ln of the crossing's support: a factor of two either way. */
const SUPPORT = 0.7;

/**
 * Error of the model in ln f: the part that all spokes share. Rim, hub and hold give way a little, which lowers the tones by 0–0.7 % (grip of
 * 1e6 N/m: 0.6 %; median of coupled finite-element pairs 0.18 %); rotary inertia, shear and tapers grow with the mode.
 */
export const modelSigma = (mode: number): number => 0.0015 + 0.00032 * mode;
/** The same, the part of each spoke. */
export const ownModelSigma = (mode: number): number => 0.0006 + 0.00024 * mode;

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
  sigma[4] = SUPPORT;
  sigma[HUB] = grid.hub.sigma;
  sigma[RIM] = grid.rim.sigma;
  sigma[TIE_HUB] = TIE;
  sigma[TIE_RIM] = TIE;
  for (let m = 0; m < MODEL_MODES; m++) sigma[MODEL + m] = modelSigma(m);
  return { mean, sigma: sigma.map((s) => Math.max(s, 1e-7)) };
};

/** The shared error that is the model's own for a mode. */
export const modelErrorOf = (mode: number): number => MODEL + Math.min(mode, MODEL_MODES - 1);

/** ∂ln f/∂(shared error) from a line read by `lineAt`, written into `out` from `at`: the first `MODEL` of them. */
export const writeSensitivities = (read: Float64Array, tied: boolean, out: Float64Array, at: number): void => {
  out[at] = -0.5;
  for (let p = 1; p <= 6; p++) out[at + p] = read[p + 1] as number;
  out[at + TIE_HUB] = tied ? (read[6] as number) : 0;
  out[at + TIE_RIM] = tied ? (read[7] as number) : 0;
};

const read = new Float64Array(LINE_SIZE);
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
  let value = (read[0] as number) - 0.5 * (errors[0] as number);
  for (let p = 1; p <= 4; p++) value += (errors[p] as number) * (read[p + 1] as number);
  value += ((errors[HUB] as number) + (tied ? (errors[TIE_HUB] as number) : 0)) * (read[6] as number);
  return value + ((errors[RIM] as number) + (tied ? (errors[TIE_RIM] as number) : 0)) * (read[7] as number);
};
