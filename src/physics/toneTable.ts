import type { Plane } from '../contract.ts';
import type { Spread } from './spreadPrior.ts';

/** Inputs whose error shifts tones, in the order of `sensitivity`. The mass is exact: −½ for every tone, and what bends with it. */
export const INPUTS = [
  'length',
  'crossing',
  'stiffness',
  'second',
  'first',
  'rimEnd',
  'hubPiece',
  'rimPiece',
  'rimGive',
  'shear',
] as const;
export type TableInput = (typeof INPUTS)[number];

/**
 * ln f of the lowest modes over ln T, for every pair of end stiffnesses on a grid. `node` = hub·rimCount + rim;
 * entry (node, mode, t) lies at (node·modes + mode)·steps + t.
 */
export interface ToneTable {
  readonly plane: Plane;
  readonly hub: Spread;
  readonly rim: Spread;
  /** What the first axis is: the hub's end, or the support at the crossing (then `second` is the hub's end, known within `secondSigma` in ln k). */
  readonly firstAxis: 'hubEnd' | 'support';
  readonly secondSigma: number;
  /** Power of the mass with which the bending stiffness is off: of a weighed member `BENDS`, otherwise the two are off each by itself, 0. */
  readonly bendsWithMass: number;
  /** Whether any section shears. */
  readonly shears: boolean;
  /** ln prior of the nodes; their sum is 1. */
  readonly lnPrior: Float64Array;
  readonly modes: number;
  readonly lnTStart: number;
  readonly lnTStep: number;
  readonly steps: number;
  readonly lnF: Float64Array;
  /** d ln f / d ln T, times the step. */
  readonly slope: Float64Array;
  /** Every `COARSE`th tension, (node·modes + mode)·coarseSteps + t. Per metre, per metre, and per unit ln of the rest. */
  readonly sensitivity: Readonly<Record<TableInput, Float32Array>>;
  /** Share of the kinetic energy beyond the crossing, 0..1; 1 without one. */
  readonly share: Float32Array;
  readonly coarseSteps: number;
  /** Nodes that stand for all in a search. */
  readonly searchNodes: readonly number[];
}

export interface TableOptions {
  readonly hub: Spread;
  readonly rim: Spread;
  readonly hubPoints: number;
  readonly rimPoints: number;
  readonly step: number;
  readonly modes: number;
  /** N/m at the crossing; 'hubAxis': the first axis is the support's stiffness, the hub's end being fixed at `hubEnd`. */
  readonly support?: number | 'hubAxis';
  readonly hubEnd?: number;
  readonly secondSigma?: number;
}
