import type { ExpectedAtTension, Family, Hypothesis, Plane } from '../contract.ts';
import { freeRatioSets } from './freeRatioSets.ts';
import { ladderSets } from './ladderSets.ts';

/** What a numbering needs to know of a tone. */
export interface HeardTone {
  readonly frequencyHz: number;
  readonly amplitude: number;
  readonly pairId?: number;
}

/** A set of tones that belong together, as a function of one parameter (ln of tension, or ln of the first tone). */
export interface ToneSet {
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  readonly guess: boolean;
  readonly from: number;
  readonly to: number;
  /** Modes in ascending order with relative tolerance (1 σ). */
  readonly modes: readonly { readonly mode: number; readonly uRelative: number }[];
  /** ln frequency of `modes[i]` at the parameter. */
  lnAt(i: number, x: number): number;
}

export interface Numbering {
  readonly modes: number[];
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  readonly score: number;
  readonly guess: boolean;
  /** ln of what the first tone of the set would be, heard or not. */
  readonly lnFirst: number;
  /** Value of the set's parameter. */
  readonly at: number;
}

/** Loudest tones that may anchor a numbering. */
const ANCHORS = 6;
/** Modes an anchor may be. */
const ANCHOR_MODES = 4;

/**
 * Numberings of the tones, best first.
 * Every loud tone is tried as each of the first four modes of each set of expected tones; that fixes the tension (or the first
 * tone), the other tones are laid against the set, and the parameter is refined by least squares. The score charges loud tones
 * left over and low modes missing, and gives little for faint tones explained: a neighbour's comb is complete but faint.
 */
export function proposeModes(
  tones: readonly HeardTone[],
  expected: readonly ExpectedAtTension[] | undefined,
  most = 6,
): Numbering[] {
  const sets = expected && expected.length > 0 ? ladderSets(expected) : freeRatioSets();
  const loudness = weights(tones);
  const anchors = tones
    .map((_, i) => i)
    .sort((a, b) => (loudness[b] as number) - (loudness[a] as number))
    .slice(0, ANCHORS);
  const found: Numbering[] = [];
  for (const set of sets)
    for (const i of anchors)
      for (let m = 0; m < Math.min(ANCHOR_MODES, set.modes.length); m++) {
        const x = solveFor(set, m, Math.log((tones[i] as HeardTone).frequencyHz));
        if (x === undefined) continue;
        found.push(number(set, x, tones, loudness));
      }
  found.sort((a, b) => b.score - a.score);
  const kept: Numbering[] = [];
  for (const n of found) {
    if (kept.length >= most) break;
    const same = kept.some(
      (k) =>
        k.family === n.family && (k.plane === n.plane || k.guess) && k.modes.every((mode, i) => mode === n.modes[i]),
    );
    if (!same) kept.push(n);
  }
  return kept;
}

export const asHypothesis = (n: Numbering): Hypothesis => ({
  modes: n.modes,
  plane: n.plane,
  family: n.family,
  score: n.score,
  guess: n.guess,
});

/** Share of each tone in the sound: its amplitude, with a little for the logarithm so that faint tones still count. */
function weights(tones: readonly HeardTone[]): number[] {
  const loudest = Math.max(...tones.map((t) => t.amplitude), 1e-12);
  const raw = tones.map((t) => {
    const a = t.amplitude / loudest;
    return a + 0.15 * Math.max(0, 1 + Math.log10(Math.max(a, 1e-6)) / 2);
  });
  const total = raw.reduce((s, v) => s + v, 0);
  return raw.map((v) => v / total);
}

/** Parameter at which mode `m` of the set has this frequency; undefined outside the set's range. */
function solveFor(set: ToneSet, m: number, ln: number): number | undefined {
  let low = set.from;
  let high = set.to;
  if (ln < set.lnAt(m, low) - 1e-9 || ln > set.lnAt(m, high) + 1e-9) return undefined;
  for (let i = 0; i < 40 && high - low > 1e-6; i++) {
    const middle = 0.5 * (low + high);
    if (set.lnAt(m, middle) < ln) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** Lays the tones against the set near `x`, moves `x` to fit them, and scores. */
function number(set: ToneSet, start: number, tones: readonly HeardTone[], loudness: readonly number[]): Numbering {
  let x = start;
  let modes: number[] = [];
  let misfit: number[] = [];
  for (let pass = 0; pass < 3; pass++) {
    modes = tones.map(() => 0);
    misfit = tones.map(() => 0);
    let top = 0;
    let bottom = 0;
    for (let m = 0; m < set.modes.length; m++) {
      const ln = set.lnAt(m, x);
      const u = (set.modes[m] as { uRelative: number }).uRelative;
      const reach = 3 * u;
      let best = -1;
      let bestCost = Number.POSITIVE_INFINITY;
      for (let i = 0; i < tones.length; i++) {
        const d = Math.abs(Math.log((tones[i] as HeardTone).frequencyHz) - ln);
        if (d > reach || modes[i] !== 0) continue;
        // Of several within reach the loud one is meant, unless it is far worse placed.
        const cost = (d / u) ** 2 - 4 * Math.log((tones[i] as HeardTone).amplitude + 1e-9);
        if (cost < bestCost) {
          bestCost = cost;
          best = i;
        }
      }
      if (best < 0) continue;
      const mode = (set.modes[m] as { mode: number }).mode;
      const d = Math.log((tones[best] as HeardTone).frequencyHz) - ln;
      modes[best] = mode;
      misfit[best] = d / u;
      const mate = (tones[best] as HeardTone).pairId;
      if (mate !== undefined)
        tones.forEach((t, i) => {
          if (t.pairId === mate && i !== best) {
            modes[i] = mode;
            misfit[i] = d / u;
          }
        });
      const slope = (set.lnAt(m, x + 1e-3) - set.lnAt(m, x - 1e-3)) / 2e-3;
      const w = (loudness[best] as number) / (u * u);
      top += w * slope * d;
      bottom += w * slope * slope;
    }
    if (pass < 2 && bottom > 0) x = Math.min(set.to, Math.max(set.from, x + top / bottom));
  }
  return {
    modes,
    plane: set.plane,
    family: set.family,
    score: score(modes, misfit, loudness),
    guess: set.guess,
    lnFirst: set.lnAt(0, x),
    at: x,
  };
}

function score(modes: readonly number[], misfit: readonly number[], loudness: readonly number[]): number {
  let sum = 0;
  const heard = new Set<number>();
  let loudMode = 0;
  for (let i = 0; i < modes.length; i++) {
    const w = loudness[i] as number;
    const mode = modes[i] as number;
    if (mode > 0) {
      sum += w * Math.exp(-0.15 * (misfit[i] as number) ** 2);
      heard.add(mode);
      if (w > 0.05) loudMode = Math.max(loudMode, mode);
    } else sum -= 0.6 * w;
  }
  // Missing low modes: each costs, more if higher ones are claimed.
  let missing = 0;
  for (let m = 1; m < Math.min(4, loudMode); m++) if (!heard.has(m)) missing += m === 1 ? 0.12 : 0.1;
  return sum - missing;
}
