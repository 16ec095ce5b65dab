import type { ExpectedAtTension, Family, Hypothesis, Plane } from '../contract.ts';
import { freeRatioSets } from './freeRatioSets.ts';
import { ladderSets } from './ladderSets.ts';
import { type LaidTones, layTones } from './layTones.ts';
import { at, type SetTone, type ToneSet } from './toneSet.ts';

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
  /** Relative standard uncertainty of that first tone, as the tones laid against the set imply it. */
  readonly uFirst: number;
  /** Share of the loudness that the numbering explains, 0..1. */
  readonly explained: number;
  /** ln of how much likelier the placing of the loud tones is than tones anywhere would make it, the search paid for. */
  readonly evidence: number;
}

/** Loudest tones that may anchor a numbering. */
const ANCHORS = 6;
/** Modes an anchor may be. */
const ANCHOR_MODES = 4;
/** Charge for each low mode that is not heard under a loud one. */
const MISSING = 0.18;
/** Charge for a tension that no wheel is ridden at, by each factor of e below 120 N. */
const SLACK = 0.12;
const SLACK_BELOW = Math.log(120);
/** Charge for loudness left over, and for what another set of the same member explains. */
const LEFT_OVER = 0.6;
const COMPANION = 0.1;
/** What a nat of evidence counts for beside the score when numberings are ranked. */
const NAT = 0.04;
/** Tones fainter than this share of the loudest are no evidence; those above the second should not be without the modes below. */
const FAINT = 0.03;
const LOUD = 0.1;
/** Nats charged for a foreign tone as loud as the loudest, less for fainter ones: a neighbour answers 20–40 dB below. */
const FOREIGN = 2.6;
const FOREIGN_PER_DB = 0.11;
/** Nats charged for each of the low modes that is not heard below a loud one. */
const NOT_HEARD = 1.5;
const LOW_MODES = 4;
/** Price of the free inharmonicity: ln of the number of values tried. */
const FREE_RATIO = Math.log(14);

/**
 * Numberings of the tones, best first.
 * Every loud tone is tried as each of the first four modes of each set of expected tones, and the others are laid against the set
 * from there. The score charges loud tones left over and low modes missing, and gives little for faint tones explained: a
 * neighbour's comb is complete but faint. The evidence adds how closely the tones lie where those before imply them.
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
        const numbering = layOut(set, i, mode, tones, lns, loudness);
        if (numbering) found.push(numbering);
      }
  found.sort((a, b) => rankOf(b) - rankOf(a));
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

/** What numberings are ranked by: the share of the loudness explained, and how unlikely the placing is by chance. */
export const rankOf = (n: Numbering): number => n.score + NAT * n.evidence;

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

/** Lays the tones against the set with one of them as a given mode, and scores. */
function layOut(
  set: ToneSet,
  anchor: number,
  mode: SetTone,
  tones: readonly HeardTone[],
  lns: readonly number[],
  loudness: readonly number[],
): Numbering | undefined {
  const laid = layTones(set, anchor, mode, tones, lns, loudness);
  if (!laid) return undefined;
  const { modes, misfit, x } = laid;
  const companion = tones.map((_, i) => modes[i] === 0 && near(set, x, lns[i] as number));
  const { score, explained } = scoreOf(modes, misfit, companion, loudness, set.guess);
  return {
    modes,
    plane: set.plane,
    family: set.family,
    score: set.guess ? score : score - SLACK * Math.max(0, SLACK_BELOW - x),
    guess: set.guess,
    lnFirst: laid.lnFirst,
    uFirst: laid.uFirst,
    explained,
    evidence: evidenceOf(set, tones, laid, companion),
  };
}

const near = (set: ToneSet, x: number, ln: number): boolean =>
  set.companions.some((c) => Math.abs(ln - at(c.ln, set, x)) < 2 * Math.hypot(at(c.u, set, x), at(c.ends, set, x)));

/** The fainter tone of a doublet. */
const isLesser = (tones: readonly HeardTone[], i: number): boolean => {
  const { pairId, amplitude } = tones[i] as HeardTone;
  return pairId !== undefined && tones.some((t, k) => k !== i && t.pairId === pairId && t.amplitude > amplitude);
};

/** Numberings tried: anchors, their modes, sets. */
const SEARCH = Math.log(ANCHORS * ANCHOR_MODES * 2);

/**
 * Each loud tone earns ln(range/(u√2π)) − misfit²/2 where it was looked for; the first only fixes the parameter and earns
 * nothing; each loud tone left over costs. Numbers of trials and of free ratios are paid for.
 * @source Jaynes 2003, Probability Theory, ch. 4 and 20 (evidence in nats)
 */
function evidenceOf(
  set: ToneSet,
  tones: readonly HeardTone[],
  { modes, gain }: LaidTones,
  companion: readonly boolean[],
): number {
  const loudest = Math.max(...tones.map((t) => t.amplitude));
  const earned = new Map<number, number>();
  let cost = SEARCH + (set.guess ? FREE_RATIO : 0);
  let loudMode = 0;
  tones.forEach((t, i) => {
    const a = t.amplitude / loudest;
    const mode = modes[i] as number;
    if (mode > 0) {
      if (a < FAINT) return;
      if (a > LOUD) loudMode = Math.max(loudMode, mode);
      earned.set(mode, Math.max(earned.get(mode) ?? Number.NEGATIVE_INFINITY, gain[i] as number));
    } else if (!companion[i] && !isLesser(tones, i)) cost += Math.max(0, FOREIGN + FOREIGN_PER_DB * 20 * Math.log10(a));
  });
  for (let m = 1; m <= Math.min(LOW_MODES, loudMode); m++) if (!earned.has(m)) cost += NOT_HEARD;
  return [...earned.values()].reduce((s, g) => s + g, 0) - cost;
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
