import type { ExpectedAtTension, Family, Plane } from '../contract.ts';
import { emptyLaid, type LaidTones, layTones } from './layTones.ts';
import { numberingSetsFor } from './setsFor.ts';
import { type HeardTone, listOf, type ToneList } from './toneList.ts';
import { at, numberAt, type SetTone, type ToneSet } from './toneSet.ts';

export interface Numbering {
  readonly modes: number[];
  readonly plane: Plane | 'unknown';
  readonly family: Family;
  readonly score: number;
  readonly guess: boolean;
  /** By the row of an instrument's string. */
  readonly string: boolean;
  /** ln of what the first tone of the set would be, heard or not. */
  readonly lnFirst: number;
  /** Relative standard uncertainty of that first tone, as the tones laid against the set imply it. */
  readonly uFirst: number;
  /** Share of the loudness that the numbering explains, 0..1. */
  readonly explained: number;
  /** ln of how much likelier the placing of the loud tones is than tones anywhere would make it, the search paid for. */
  readonly evidence: number;
  /** ln of how much likelier the loud tones' glides are as those of their modes than as other spokes'. */
  readonly glides: number;
  /**
   * ln of the odds that the tone taken for the first is the spoke's own and not a neighbour's: how it lies where the louder tones imply the
   * first. Infinity where it is the loudest itself, or was not heard and nothing is taken for it.
   */
  readonly firstOwn: number;
}

/** Loudest tones that may anchor a numbering. */
const ANCHORS = 6;
/** Modes an anchor may be. */
const ANCHOR_MODES = 4;
/** The same of a string, whose loudest may be higher. */
const STRING_ANCHOR_MODES = 8;
/** Charge for each low mode that is not heard under a loud one. */
const MISSING = 0.1;
const GUESS_MISSING = 0.3;
/** Charge for a tension that no wheel is ridden at, by each factor of e below 120 N. */
const SLACK = 0.12;
const SLACK_BELOW = Math.log(120);
/** Charge for loudness left over, and for what another set of the same member explains. */
const LEFT_OVER = 0.6;
const COMPANION = 0.1;
/** What a nat of evidence counts for beside the score when numberings are ranked. */
const NAT = 0.12;
/** Free ratios are no law: how closely tones lie by them says less. */
const GUESS_NAT = 0.04;
/** Tones fainter than this share of the loudest are no evidence; those above the second should not be without the modes below. */
const FAINT = Math.log(0.03);
const LOUD = Math.log(0.1);
/** Nats charged for a foreign tone as loud as the loudest, less for fainter ones: a neighbour answers 20–40 dB below. */
const FOREIGN = 3;
const FOREIGN_PER_E = (0.11 * 20) / Math.LN10;
/** Nats charged for each of the low modes that is not heard below a loud one. */
const NOT_HEARD = 1.5;
const LOW_MODES = 4;
/** Price of a plane that was not plucked: its tones are the fainter ones as a rule. */
const OTHER_PLANE = 2;
/** Price of the free inharmonicity: ln of the number of values tried. */
const FREE_RATIO = Math.log(14);

/**
 * Numberings of the tones, best first.
 * Every loud tone is tried as each of the first four modes of each set of expected tones, and the others are laid against the set
 * from there. The score charges loud tones left over and low modes missing, and gives little for faint tones explained: a
 * neighbour's comb is complete but faint. The evidence adds how closely the tones lie where those before imply them, and whether they
 * glide as one tension makes them.
 * @param tones in any order, at least one.
 * @param expected the member's ladder; absent or empty: free ratios, marked as a guess.
 */
export function proposeModes(
  tones: readonly HeardTone[],
  expected: readonly ExpectedAtTension[] | undefined,
  most = 6,
): Numbering[] {
  const sets = numberingSetsFor(expected);
  const list = listOf(tones);
  const loudness = loudnessOf(tones);
  const anchors = tones
    .map((_, i) => i)
    .sort((a, b) => (loudness[b] as number) - (loudness[a] as number))
    .slice(0, ANCHORS);
  const found: Numbering[] = [];
  const laid = emptyLaid(tones.length);
  for (const set of sets)
    for (let m = 0; m < set.modes.length; m++) {
      if (!mayAnchor(set.modes[m] as SetTone, set)) continue;
      for (const i of anchors) {
        if (!layTones(set, i, m, list, laid)) continue;
        found.push(numberingOf(set, laid, list, loudness, set.guess || set === sets[0] ? 0 : OTHER_PLANE));
      }
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
export const rankOf = (n: Numbering): number => n.score + (n.guess ? GUESS_NAT : NAT) * n.evidence + NAT * n.glides;

/** One of the first modes of its family, somewhere on the grid. */
const mayAnchor = ({ numbers }: SetTone, set: ToneSet): boolean => {
  const middle = numbers[numbers.length >> 1] as number;
  return middle > 0 && middle <= (set.string ? STRING_ANCHOR_MODES : ANCHOR_MODES);
};

/** Share of each tone in the sound: its amplitude, with a little for the logarithm so that faint tones still count. */
function loudnessOf(tones: readonly HeardTone[]): Float64Array {
  const loudest = Math.max(...tones.map((t) => t.amplitude), 1e-12);
  const raw = Float64Array.from(tones, (t) => {
    const a = t.amplitude / loudest;
    return a + 0.15 * Math.max(0, 1 + Math.log10(Math.max(a, 1e-6)) / 2);
  });
  const total = raw.reduce((s, v) => s + v, 0);
  return raw.map((v) => v / total);
}

/** The numbering that tones laid against a set make, scored. */
function numberingOf(set: ToneSet, laid: LaidTones, tones: ToneList, loudness: Float64Array, price: number): Numbering {
  const { places, misfit, lnFirst } = laid;
  const count = places.length;
  const modes: number[] = new Array(count).fill(0);
  const companion = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const p = places[i] as number;
    if (p > 0) modes[i] = numberAt(set.modes[p - 1] as SetTone, set, lnFirst);
    else if (near(set, lnFirst, tones.ln[i] as number)) companion[i] = 1;
  }
  const slack = set.lnTension ? Math.max(0, SLACK_BELOW - at(set.lnTension, set, lnFirst)) : 0;
  const { score, explained } = scoreOf(places, modes, misfit, companion, loudness, set.guess);
  return {
    modes,
    plane: set.plane,
    family: set.family,
    score: score - SLACK * slack,
    guess: set.guess,
    string: set.string === true,
    lnFirst,
    uFirst: laid.uFirst,
    explained,
    evidence: evidenceOf(set, tones, laid, modes, companion) - price,
    glides: glidesOf(set, tones, laid),
    firstOwn: ownOdds(modes, laid),
  };
}

/** The best of the first mode's tones; the tone that all others were laid from has earned nothing. */
function ownOdds(modes: readonly number[], { gain, glides }: LaidTones): number {
  let best = 0;
  for (let i = 0; i < modes.length; i++)
    if (modes[i] === 1) best = Math.max(best, (gain[i] as number) + (glides[i] as number));
  return best > 0 ? best : Number.POSITIVE_INFINITY;
}

/** Is a tone one of the other plane's? */
function near(set: ToneSet, x: number, ln: number): boolean {
  for (const c of set.companions)
    if (Math.abs(ln - at(c.ln, set, x)) < 2 * Math.hypot(at(c.u, set, x), at(c.ends, set, x))) return true;
  return false;
}

/** The fainter tone of a doublet. */
const isLesser = ({ mate, lnAmplitude }: ToneList, i: number): boolean => {
  const k = mate[i] as number;
  return k >= 0 && (lnAmplitude[k] as number) > (lnAmplitude[i] as number);
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
  tones: ToneList,
  { places, gain, lnFirst }: LaidTones,
  modes: readonly number[],
  companion: Uint8Array,
): number {
  const earned = new Float64Array(set.modes.length).fill(Number.NEGATIVE_INFINITY);
  let heard = 0;
  let loudPlace = 0;
  let sum = -SEARCH - (set.guess ? FREE_RATIO : 0);
  for (let i = 0; i < places.length; i++) {
    const lnA = (tones.lnAmplitude[i] as number) - tones.lnLoudest;
    const place = places[i] as number;
    const mode = modes[i] as number;
    if (place > 0) {
      if (lnA < FAINT) continue;
      if (lnA > LOUD) loudPlace = Math.max(loudPlace, place);
      earned[place - 1] = Math.max(earned[place - 1] as number, gain[i] as number);
      heard |= 1 << mode;
    } else if (!companion[i] && !isLesser(tones, i)) sum -= Math.max(0, FOREIGN + FOREIGN_PER_E * lnA);
  }
  for (let p = 0; p < loudPlace; p++) {
    const number = numberAt(set.modes[p] as SetTone, set, lnFirst);
    if (number > 0 && number <= LOW_MODES && !(heard & (1 << number))) sum -= NOT_HEARD;
  }
  for (const gained of earned) if (gained > Number.NEGATIVE_INFINITY) sum += gained;
  return sum;
}

/** Both planes of a mode tell one thing. */
function glidesOf(set: ToneSet, { lnAmplitude, lnLoudest }: ToneList, { places, glides }: LaidTones): number {
  let sum = 0;
  for (let m = 0; m < set.modes.length; m++) {
    let told = 0;
    for (let i = 0; i < places.length; i++)
      if (
        places[i] === m + 1 &&
        (lnAmplitude[i] as number) - lnLoudest >= FAINT &&
        Math.abs(glides[i] as number) > Math.abs(told)
      )
        told = glides[i] as number;
    sum += told;
  }
  return sum;
}

function scoreOf(
  places: Int8Array,
  modes: readonly number[],
  misfit: Float64Array,
  companion: Uint8Array,
  loudness: Float64Array,
  guess: boolean,
): { score: number; explained: number } {
  let score = 0;
  let explained = 0;
  let loudMode = 0;
  for (let i = 0; i < modes.length; i++) {
    const w = loudness[i] as number;
    if ((places[i] as number) > 0) {
      score += w * Math.exp(-0.15 * (misfit[i] as number) ** 2);
      explained += w;
      if (w > 0.05) loudMode = Math.max(loudMode, modes[i] as number);
    } else if (companion[i]) {
      score -= COMPANION * w;
      explained += w;
    } else score -= LEFT_OVER * w;
  }
  // Low modes missing under the loud ones.
  for (let m = 1; m < Math.min(4, loudMode); m++) if (!modes.includes(m)) score -= guess ? GUESS_MISSING : MISSING;
  return { score, explained };
}
