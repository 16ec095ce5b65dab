import { LINE_SIZE, lineAt } from './lineAt.ts';
import { squaredOmega } from './modelErrors.ts';
import type { ToneTable } from './toneTable.ts';

/**
 * What the model of a held crossing as a whole is off by beside all that is named, relative in tension, 1 σ, common to a side: the uncertainty that only
 * a comparison shows. It acts like the mass, so that a known tension takes it away.
 * @source 35 rounds of an outside simulator: found 1.11 times as far off as stated without it; the notion: Thompson & Ellison, Accred. Qual. Assur. 16 (2011), 483, from memory
 */
export const HELD_DISCREPANCY = 0.015;
/** What fingers add to the hold differs from mode to mode, by this much, N/m, 1 σ. @source finite-element pairs of two simulators, 1e5 … 1e6 */
const FINGERS = 5e5;
/** Flesh, the partner's wire and the short piece to the hub move with the crossing: their mass less their own springs, kg, 1 σ, either sign. */
export const MOVING_MASS = 0.003;
/** The partner bends too, and each partner rings elsewhere: what it adds to the hold, N/m, 1 σ. @source √(T·µ)·ω of a steel wire at 3 kHz */
const PARTNER = 1e5;
/**
 * The model's error with that of the hold, which tells on a slack hold and hardly on a firm one: what fingers add, and what the moving mass
 * takes beyond first order.
 * @param read the line at this node, see `lineAt`
 */
export const withHold = (table: ToneTable, node: number, model: number, read: Float64Array): number => {
  if (table.firstAxis !== 'support') return model;
  const hold = holdOf(table, node);
  const taken = Math.min((MOVING_MASS * squaredOmega(read[0] as number)) / hold, 1);
  const fingers = Math.min(FINGERS / hold, 1);
  return Math.sqrt(model ** 2 + (read[6] as number) ** 2 * (fingers ** 2 + 0.25 * taken ** 4));
};
/** Stiffness of what holds the crossing at a node, N/m; infinite where none is asked for. */
export const holdOf = (table: ToneTable, node: number): number =>
  table.firstAxis === 'support'
    ? Math.exp(table.hub.lnK[Math.floor(node / table.rim.lnK.length)] as number)
    : Number.POSITIVE_INFINITY;
/** Variance of a spoke's own line with its partner's bending in it. */
export const varianceWithPartner = (sigma: number, hold: number, first: number): number =>
  sigma ** 2 + ((first * PARTNER) / hold) ** 2;
const read = new Float64Array(LINE_SIZE);
/** The same at a node and tension. */
export const ownVarianceAt = (table: ToneTable, node: number, mode: number, lnT: number, sigma: number): number => {
  lineAt(table, node, mode, lnT, read);
  return varianceWithPartner(sigma, holdOf(table, node), read[6] as number);
};
/** ∂ln f/∂(mass moving with the crossing), 1/kg: it takes m·ω² from the hold, all of it at most. */
export const massSlope = (lnF: number, first: number, hold: number): number => {
  if (hold === Number.POSITIVE_INFINITY) return 0;
  const squared = squaredOmega(lnF);
  return (-first * squared) / Math.max(hold, MOVING_MASS * squared);
};
