import { lnFrequencyAt, middleOf, rimGiveAt } from './lineAt.ts';
import type { ToneTable } from './toneTable.ts';

/** ω², rad²/s². */
export const squaredOmega = (lnF: number): number => (2 * Math.PI * Math.exp(lnF)) ** 2;

/** How near a tone must come to be taken for a mode while numberings are sought: everything that the model leaves out. */
export const modelSigma = (mode: number): number => 0.0015 + 0.00032 * mode;
/** Rotary inertia, shear, tapers: of the first mode, and for each further one. */
const NEGLECTED = { first: 0.0006, each: 0.0004 };
/** Compliance of the rim where a nipple sits, m/N, either sign: a rim's own mode of 0.4 kg a quarter away from the tone. */
const RIM_GIVE = 4e-8;
/**
 * Error of the model in ln f of one mode that all spokes share, 1 σ: what is neglected, and how far a yielding rim moves this very mode
 * (a short or stiff member pulls at its rim hardest).
 */
export const modelErrorAt = (table: ToneTable, mode: number, lnT: number): number =>
  Math.hypot(NEGLECTED.first + NEGLECTED.each * mode, rimGiveOf(table, mode, lnT) * rimGiveAt(table, mode, lnT));
/** Mass that a rim moving across the wheel shows at one nipple, kg: above its own low modes it gives way by 1/(m·ω²). @source own finite-element rims, 0.1–0.8 */
const RIM_MASS_ACROSS = 0.4;
const rimGiveOf = (table: ToneTable, mode: number, lnT: number): number =>
  table.plane === 'inPlane'
    ? RIM_GIVE
    : Math.hypot(RIM_GIVE, 1 / (RIM_MASS_ACROSS * squaredOmega(lnFrequencyAt(table, middleOf(table), mode, lnT))));
/** The part of the model's error that is each spoke's own. */
export const ownModelSigma = (mode: number): number => 0.0006 + 0.00024 * mode;
