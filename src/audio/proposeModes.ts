import type { ExpectedAtTension, Family, Hypothesis, Plane } from '../contract.ts';
import { freeRatioSets } from './freeRatioSets.ts';
import { ladderSets } from './ladderSets.ts';
import { at, lastOf, parameterAt, type SetTone, type ToneSet } from './toneSet.ts';

/** What a numbering needs to know of a tone. */
export interface HeardTone {
  readonly frequencyHz: number;
  readonly amplitude: number;
  readonly pairId?: number;
}

export interface Numbering {
  readonly modes: number[];
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  readonly score: number;
  readonly guess: boolean;
  /** ln of what the first tone of the set would be, heard or not. */
  readonly lnFirst: number;
  /** Share of the loudness that the numbering explains, 0..1. */
  readonly explained: number;
  /** ln of how much likelier the placing of the loud tones is than tones anywhere would make it, the search paid for. */
  readonly evidence: number;
}

/** Loudest tones that may anchor a numbering. */
const ANCHORS = 6;
/** Modes an anchor may be. */
const ANCHOR_MODES = 4;
/** Standard deviations within which a tone may be taken for a mode. */
const REACH = 3;
/** Charge for each low mode that is not heard under a loud one. */
const MISSING = 0.18;
/** Charge for a tension that no wheel is ridden at, by each factor of e below 120 N. */
const SLACK = 0.12;
const SLACK_BELOW = Math.log(120);
/** Charge for loudness left over, and for what another set of the same member explains. */
const LEFT_OVER = 0.6;
const COMPANION = 0.1;
/** Price of the free inharmonicity: ln of the number of values tried. */
const FREE_RATIO = Math.log(14);

/**
 * Numberings of the tones, best first.
 * Every loud tone is tried as each of the first four modes of each set of expected tones; that fixes the tension (or the first
 * tone), the other tones are laid against the set, and the parameter is refined by least squares. The score charges loud tones
 * left over and low modes missing, and gives little for faint tones explained: a neighbour's comb is complete but faint.
 * @param tones in any order, at least one.
 * @param expected the member's ladder; absent or empty: free ratios, marked as a guess.
 */
export function proposeModes(
  tones: readonly HeardTone[],
  expected: readonly ExpectedAtTension[] | undefined,
  most = 6,
): Numbering[] {
  const sets = expected && expected.length > 1 ? ladderSets(expected) : freeRatioSets();
  const loudness = weights(tones);
  const lns = tones.map((t) => Math.log(t.frequencyHz));
  const anchors = tones
    .map((_, i) => i)
    .sort((a, b) => (loudness[b] as number) - (loudness[a] as number))
    .slice(0, ANCHORS);
  const found: Numbering[] = [];
  for (const set of sets)
    for (const i of anchors)
      for (const mode of set.modes.slice(0, ANCHOR_MODES)) {
        const x = parameterAt(mode, set, lns[i] as number);
        if (x !== undefined) found.push(layOut(set, x, tones, lns, loudness));
      }
  found.sort((a, b) => b.score - a.score);
  const kept: Numbering[] = [];
  for (const n of found) {
    if (kept.length >= most) break;
    const same = (k: Numbering) =>
      (k.plane === n.plane && k.family === n.family && k.modes.every((mode, i) => mode === n.modes[i])) ||
      (k.guess && Math.abs(k.lnFirst - n.lnFirst) < 0.01);
    if (!kept.some(same)) kept.push(n);
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

/** Lays the tones against the set near `x`, moves `x` to fit them, and scores. */
function layOut(
  set: ToneSet,
  start: number,
  tones: readonly HeardTone[],
  lns: readonly number[],
  loudness: readonly number[],
): Numbering {
  let x = start;
  const modes = tones.map(() => 0);
  const misfit = tones.map(() => 0);
  for (let pass = 0; pass < 3; pass++) {
    modes.fill(0);
    misfit.fill(0);
    let top = 0;
    let bottom = 0;
    for (const expected of set.modes) {
      const u = at(expected.u, set, x);
      const ln = at(expected.ln, set, x);
      const best = nearest(tones, lns, modes, ln, u);
      if (best < 0) continue;
      const d = (lns[best] as number) - ln;
      modes[best] = expected.mode;
      misfit[best] = d / u;
      const mate = (tones[best] as HeardTone).pairId;
      if (mate !== undefined)
        tones.forEach((t, i) => {
          if (t.pairId !== mate || i === best || modes[i] !== 0) return;
          modes[i] = expected.mode;
          misfit[i] = d / u;
        });
      const slope = (at(expected.ln, set, x + set.step) - at(expected.ln, set, x - set.step)) / (2 * set.step);
      const s = set.guess ? 1 : slope;
      const w = (loudness[best] as number) / (u * u);
      top += w * s * d;
      bottom += w * s * s;
    }
    if (pass < 2 && bottom > 0) x = Math.min(lastOf(set), Math.max(set.from, x + top / bottom));
  }
  const companion = tones.map((_, i) => modes[i] === 0 && near(set, x, lns[i] as number));
  const { score, explained } = scoreOf(modes, misfit, companion, loudness, set.guess);
  return {
    modes,
    plane: set.plane,
    family: set.family,
    score: set.guess ? score : score - SLACK * Math.max(0, SLACK_BELOW - x),
    guess: set.guess,
    lnFirst: at((set.modes[0] as SetTone).ln, set, x),
    explained,
    evidence: evidenceOf(set, x, tones, modes, misfit, companion),
  };
}

/** The tone meant by an expected one: of several within reach the loud one, unless it is far worse placed. −1: none. */
function nearest(tones: readonly HeardTone[], lns: readonly number[], modes: readonly number[], ln: number, u: number) {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < tones.length; i++) {
    const d = Math.abs((lns[i] as number) - ln) / u;
    if (d > REACH || modes[i] !== 0) continue;
    const cost = d * d - 4 * Math.log((tones[i] as HeardTone).amplitude + 1e-9);
    if (cost < least) {
      least = cost;
      best = i;
    }
  }
  return best;
}

const near = (set: ToneSet, x: number, ln: number): boolean =>
  set.companions.some((c) => Math.abs(ln - at(c.ln, set, x)) < 2 * at(c.u, set, x));

/** Tones may lie anywhere within this many factors of e. */
const LN_RANGE = Math.log(8000 / 100);
/** Numberings tried: anchors, their modes, sets. */
const SEARCH = Math.log(ANCHORS * ANCHOR_MODES * 2);

/**
 * Each loud tone within its mode's tolerance u earns ln(range/(u√2π)) − misfit²/2; the best of them only fixes the parameter and
 * earns nothing; each loud tone left over costs. Numbers of trials and of free ratios are paid for.
 * @source Jaynes 2003, Probability Theory, ch. 4 and 20 (evidence in nats)
 */
function evidenceOf(
  set: ToneSet,
  x: number,
  tones: readonly HeardTone[],
  modes: readonly number[],
  misfit: readonly number[],
  companion: readonly boolean[],
): number {
  const loudest = Math.max(...tones.map((t) => t.amplitude));
  const earned = new Map<number, number>();
  let cost = SEARCH + (set.guess ? FREE_RATIO : 0);
  tones.forEach((t, i) => {
    const a = t.amplitude / loudest;
    const mode = modes[i] as number;
    const entry = set.modes.find((m) => m.mode === mode);
    if (entry) {
      if (a < 0.03) return;
      const gain = Math.log(LN_RANGE / (at(entry.u, set, x) * 2.5)) - 0.5 * (misfit[i] as number) ** 2;
      earned.set(mode, Math.max(earned.get(mode) ?? Number.NEGATIVE_INFINITY, gain));
    } else if (!companion[i] && a > 0.1) cost += a > 0.3 ? 2 : 1;
  });
  const gains = [...earned.values()].sort((a, b) => a - b);
  gains.pop();
  return gains.reduce((s, g) => s + g, 0) - cost;
}

function scoreOf(
  modes: readonly number[],
  misfit: readonly number[],
  companion: readonly boolean[],
  loudness: readonly number[],
  guess: boolean,
): { score: number; explained: number } {
  let score = 0;
  let explained = 0;
  let loudMode = 0;
  for (let i = 0; i < modes.length; i++) {
    const w = loudness[i] as number;
    const mode = modes[i] as number;
    if (mode > 0) {
      score += w * Math.exp(-0.15 * (misfit[i] as number) ** 2);
      explained += w;
      if (w > 0.05) loudMode = Math.max(loudMode, mode);
    } else if (companion[i]) {
      score -= COMPANION * w;
      explained += w;
    } else score -= LEFT_OVER * w;
  }
  // Low modes missing under the loud ones.
  for (let m = 1; m < Math.min(4, loudMode); m++) if (!modes.includes(m)) score -= guess ? 1.7 * MISSING : MISSING;
  return { score, explained };
}
