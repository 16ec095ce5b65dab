import type { Plane } from '../contract.ts';
import type { Comb } from './combs.ts';
import type { FitLine } from './fitLine.ts';
import type { HeardTone } from './heardTones.ts';
import { lnFrequencyAt, shareAt } from './lineAt.ts';
import { modelSigma, ownModelSigma } from './modelErrors.ts';
import { modelled, taughtSigma, tieSigma } from './sharedErrors.ts';
import type { ToneTable } from './toneTable.ts';

/**
 * A way to take the tones: `modes[j]` is 0 (foreign) or 1 + the index of the mode of tone j: those of the comb's table, then those of the
 * plane beside it.
 */
export interface Numbering {
  readonly comb: Comb;
  readonly modes: Int8Array;
  /** ln evidence of everything but the misfit of the frequencies, against "all tones are foreign". */
  readonly lnDiscrete: number;
}

/** The comb at one node and tension. */
export interface CombAt {
  readonly comb: Comb;
  readonly lnF: Float64Array;
  /** Chance that the mode is heard. */
  readonly present: Float64Array;
  /** Its number within the family that it belongs to. */
  readonly number: Uint8Array;
  /** 1: beyond the crossing (or uncrossed), 0: between hub and crossing. */
  readonly inside: Uint8Array;
  /** How far a mode of the plane beside may lie from here, 1 σ of ln f; 0 for the comb's own. */
  readonly loose: Float64Array;
}

/** Chance that mode n of the plucked spoke is not among the tones. @source own trial: fundamental 10 %; even modes die at mid-span */
const MISSING = [0.12, 0.25, 0.32, 0.42, 0.55, 0.65, 0.75, 0.8];
const AUDIBLE_LN = Math.log(3500);
/** Modes above this number are not used: the rim adds modes of its own about there. */
const LAST_NUMBER = 6;

/** Modes of the plane beside that are looked for, and the chance that each is heard of a pluck meant for the other plane. */
const BESIDE = [0.55, 0.45, 0.35];
/** Its tones are weaker than the comb's own of the same number: their levels spread like those of modes so much higher. */
const BESIDE_LEVEL = 3;
/** Relative, of the ratio of bending stiffness in the two planes. */
const BESIDE_STIFFNESS = 0.03;

/** How many modes a numbering counts: the comb's own, then those of the plane beside. */
export const modesOf = ({ table, beside }: Comb): number => table.modes + (beside === undefined ? 0 : BESIDE.length);
/** Where mode `m` of a numbering is tabulated. */
export const tableOfMode = ({ table, beside }: Comb, m: number): { table: ToneTable; mode: number } =>
  m < table.modes || beside === undefined ? { table, mode: m } : { table: beside, mode: m - table.modes };

/** What is known of the shared errors where a comb is looked up. */
export interface ErrorsThere {
  readonly errors: Float64Array;
  /** SHARED × SHARED; absent: the plane beside is as loose as before. */
  readonly covariance?: Float64Array;
  /** Plane of the grid that they belong to. */
  readonly grid: Plane;
}
/** The comb at a node of its table and a tension, with errors of the description applied if they are given. */
export const combAt = (comb: Comb, node: number, lnT: number, there?: ErrorsThere): CombAt => {
  const { table, beside } = comb;
  const count = modesOf(comb);
  const lnF = new Float64Array(count);
  const present = new Float64Array(count);
  const number = new Uint8Array(count);
  const inside = new Uint8Array(count);
  const loose = new Float64Array(count);
  let segment = 0;
  let hub = 0;
  for (let m = 0; m < table.modes; m++) {
    lnF[m] =
      there === undefined
        ? lnFrequencyAt(table, node, m, lnT)
        : modelled(table, node, m, lnT, there.errors, table.plane !== there.grid);
    const share = Math.min(Math.max(shareAt(table, node, m, lnT), 0), 1);
    inside[m] = share >= 0.5 ? 1 : 0;
    number[m] = share >= 0.5 ? ++segment : ++hub;
    const n = number[m] as number;
    // A mode that lives between hub and crossing hardly sounds when the long part is plucked.
    const audible = (lnF[m] as number) < AUDIBLE_LN ? 1 : 0.3;
    present[m] =
      n > LAST_NUMBER ? 0 : (1 - (MISSING[n - 1] as number)) * audible * (share >= 0.5 ? share : 0.3 * share);
  }
  for (let i = table.modes; beside !== undefined && i < count; i++) {
    const m = i - table.modes;
    lnF[i] =
      there === undefined
        ? lnFrequencyAt(beside, node, m, lnT)
        : modelled(beside, node, m, lnT, there.errors, beside.plane !== there.grid);
    present[i] = BESIDE[m] as number;
    number[i] = m + 1;
    inside[i] = 1;
    loose[i] =
      there?.covariance === undefined
        ? tieSigma(beside, node, m, lnT, BESIDE_STIFFNESS)
        : taughtSigma(beside, node, m, lnT, there.covariance, beside.plane !== there.grid);
  }
  return { comb, lnF, present, number, inside, loose };
};

/** ln density, per dB, of the level of mode n of the plucked spoke, below the loudest tone. */
const lnLevel = (below: number, n: number): number => {
  const scale = 6 + 2 * n;
  return Math.log((0.75 / scale) * Math.exp(-below / scale) + 0.25 / 45);
};
/** The plucked spoke's comb reaches the level of the loudest tone nearly always. */
const lnLoudest = (below: number): number => -Math.min(0.25 * Math.max(below - 4, 0), 6);
const HALF_LN_2PI = 0.5 * Math.log(2 * Math.PI);

/**
 * Takes each tone for the mode that it is nearest to, if that is likelier than that it is foreign.
 * @param widening further standard uncertainty of ln f, for a search on a coarse grid
 * @returns the numbering and the ln of its likelihood with the frequencies' misfit at this very tension
 */
export const number = (
  at: CombAt,
  tones: readonly HeardTone[],
  plucks: number,
  widening: number,
): { numbering: Numbering; lnLikelihood: number } => {
  const modes = new Int8Array(tones.length);
  const M = at.lnF.length;
  const own = at.comb.table.modes;
  let lnDiscrete = at.comb.lnPrior;
  let lnMisfit = 0;
  const gain = new Float64Array(M);
  const taken = new Int16Array(M);
  const misfit = new Float64Array(M);
  for (let pluck = 0; pluck < plucks; pluck++) {
    gain.fill(0);
    taken.fill(-1);
    let any = false;
    for (let j = 0; j < tones.length; j++) {
      const tone = tones[j] as HeardTone;
      if (tone.pluck !== pluck) continue;
      any = true;
      let most = 0;
      let likeliest = -1;
      let lnNormalThere = 0;
      for (const [from, to] of [
        [0, own],
        [own, M],
      ] as const) {
        const nearest = nearestMode(at, from, to, tone.lnF);
        if (nearest < 0) continue;
        const n = at.number[nearest] as number;
        const loose = at.loose[nearest] as number;
        const sigma = Math.sqrt(
          tone.sigma ** 2 + modelSigma(n - 1) ** 2 + ownModelSigma(n - 1) ** 2 + widening * widening + loose * loose,
        );
        const z = (tone.lnF - (at.lnF[nearest] as number)) / sigma;
        const lnNormal = -0.5 * z * z - Math.log(sigma) - HALF_LN_2PI;
        const p = at.present[nearest] as number;
        const level = lnLevel(tone.below, from === 0 ? n : n + BESIDE_LEVEL);
        const total = Math.log(p / (1 - p)) + level - tone.lnForeign + tone.lnRing + lnNormal;
        if (total > most) {
          most = total;
          likeliest = nearest;
          lnNormalThere = lnNormal;
        }
      }
      if (likeliest < 0 || most <= (gain[likeliest] as number)) continue;
      gain[likeliest] = most;
      misfit[likeliest] = lnNormalThere;
      taken[likeliest] = j;
    }
    if (!any) continue;
    let loudest = 60;
    for (let m = 0; m < M; m++) {
      lnDiscrete += Math.log(1 - (at.present[m] as number));
      const j = taken[m] as number;
      if (j < 0) continue;
      modes[j] = m + 1;
      lnDiscrete += (gain[m] as number) - (misfit[m] as number);
      lnMisfit += misfit[m] as number;
      loudest = Math.min(loudest, (tones[j] as HeardTone).below);
    }
    lnDiscrete += lnLoudest(loudest);
    // The other tone of a doublet, or of the other plane close by, is no stranger: nearly free of charge.
    for (let j = 0; j < tones.length; j++) {
      const tone = tones[j] as HeardTone;
      if (tone.pluck === pluck && modes[j] === 0 && tone.lnForeign < -1.5 && hasTwin(tone, tones, modes))
        lnDiscrete += -1.5 - tone.lnForeign;
    }
  }
  return { numbering: { comb: at.comb, modes, lnDiscrete }, lnLikelihood: lnDiscrete + lnMisfit };
};

/** The mode nearest to ln f among `from`..`to`, not farther than 6 %; −1 if there is none. */
const nearestMode = (at: CombAt, from: number, to: number, lnF: number): number => {
  let nearest = -1;
  let least = 0.06;
  for (let m = from; m < to; m++) {
    const d = Math.abs(lnF - (at.lnF[m] as number));
    if (d < least && (at.present[m] as number) > 0.02) {
      least = d;
      nearest = m;
    }
  }
  return nearest;
};

const hasTwin = (tone: HeardTone, tones: readonly HeardTone[], modes: Int8Array): boolean => {
  for (let o = 0; o < tones.length; o++) {
    const other = tones[o] as HeardTone;
    if (other.pluck !== tone.pluck || modes[o] === 0) continue;
    if (tone.pairId !== undefined && other.pairId === tone.pairId) return true;
    if (Math.abs(other.lnF - tone.lnF) < 0.03) return true;
  }
  return false;
};

/** ln of the prior density of ln T, per nat: ordinary tensions are likelier, none is excluded. */
export const lnTensionPrior = (lnT: number): number => {
  const middle = Math.log(600);
  const beyond = Math.max(Math.abs(lnT - middle) - 1.1, 0) / 0.8;
  return -1.1 - 0.5 * beyond * beyond;
};

/** The tones of a numbering, those of one mode in several plucks merged, as lines to fit; ln of the misfit among plucks beside. */
export const linesOf = (numbering: Numbering, tones: readonly HeardTone[]): { lines: FitLine[]; lnPlucks: number } => {
  const lines: FitLine[] = [];
  let lnPlucks = 0;
  for (let m = 0; m < modesOf(numbering.comb); m++) {
    let weight = 0;
    let sum = 0;
    let squares = 0;
    let count = 0;
    let lnSigmas = 0;
    numbering.modes.forEach((mode, j) => {
      if (mode !== m + 1) return;
      const tone = tones[j] as HeardTone;
      const variance = tone.sigma ** 2 + BETWEEN_PLUCKS ** 2;
      weight += 1 / variance;
      sum += tone.lnF / variance;
      squares += tone.lnF ** 2 / variance;
      lnSigmas += 0.5 * Math.log(variance);
      count++;
    });
    if (count === 0) continue;
    const lnF = sum / weight;
    const chi2 = Math.max(squares - sum * lnF, 0);
    // Heavy-tailed (Student's t, 4 degrees of freedom): a pluck may bring out the other tone of a doublet.
    if (count > 1)
      lnPlucks += -2.5 * Math.log1p(chi2 / 4) - lnSigmas - 0.5 * Math.log(weight) - (count - 1) * HALF_LN_2PI;
    const spread = Math.max(1, chi2 / Math.max(count - 1, 1));
    const { table, mode } = tableOfMode(numbering.comb, m);
    lines.push({
      table,
      mode,
      lnF,
      sigma: Math.sqrt(spread / weight + ownModelSigma(mode) ** 2),
      model: 0,
      tied: table !== numbering.comb.table,
    });
  }
  return { lines, lnPlucks };
};
/** Two plucks of one spoke: another hand, another amplitude. */
const BETWEEN_PLUCKS = 1e-4;
