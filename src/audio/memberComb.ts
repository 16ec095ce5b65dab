import { combEvidence, combShift, type Tooth } from './combEvidence.ts';
import type { Line } from './loudLines.ts';
import { at, lastOf, nearestPoint, numberAt, parameterAt, type ToneSet } from './toneSet.ts';

/** Tones of one set agree with the model so well once tension and ends are free, the upper ones less. */
const OWN = 0.004;
const OWN_EACH = 0.0015;
/** Departures of the ends that are tried, standard deviations, and what each costs: a normal prior that is twice as wide as the ladder's. */
const ENDS = [-2.4, -1.2, 0, 1.2, 2.4];
const priceOfEnds = (z: number): number => 0.125 * z * z;
const OTHER_WEIGHT = 0.7;
const ANCHORS = 6;
const ANCHOR_MODES = 4;
/** Highest tone that is expected to be heard. */
const TOP = Math.log(8000);
/** Charge for a low tone that is missing: every tenth pluck has a node or a dead place there. */
const MISSING = 0.8;
/** Price of the free tension: ln of prior width over what the tones leave of it. Of the choice of set; of free inharmonicity. */
const SEARCH = 5;
const SETS = 0.7;
const FREE_RATIOS = 2.6;
/** Spokes of ridden wheels: a factor of two about 700 N; one in ten anywhere on the ladder. Facts of the trade, common practice. */
const USUAL = Math.log(700);
const USUAL_SPREAD = 0.7;
const UNUSUAL = 0.1;

/** How well the lines lie where the member has tones, at the best tension. */
export interface MemberComb {
  /** Nats over lines anywhere; −60 where no tension of the ladder has any of the tones. */
  readonly evidence: number;
  readonly teeth: readonly Tooth[];
  /** ln tension (N), or of the first tone (Hz) where the set is a guess. */
  readonly x: number;
}

/** Evidence for the member that the sets describe. Each of the loudest lines is tried as each of the first modes of every set. */
export function memberComb(lines: readonly Line[], sets: readonly ToneSet[]): MemberComb {
  let best: MemberComb = { evidence: -60, teeth: [], x: 0 };
  for (const set of sets) {
    const found = set.lnTension ? describedComb(lines, set, set.lnTension) : freeComb(lines, set);
    if (found && found.evidence > best.evidence) best = found;
  }
  return best;
}

function describedComb(lines: readonly Line[], set: ToneSet, lnTension: Float64Array): MemberComb | undefined {
  let best: MemberComb | undefined;
  const width = (lnTension[lnTension.length - 1] as number) - (lnTension[0] as number);
  for (const anchor of lines.slice(0, ANCHORS))
    for (const mode of set.modes.slice(0, ANCHOR_MODES)) {
      const start = parameterAt(mode, set, anchor.lnHz);
      if (start === undefined) continue;
      const slope = (at(mode.ln, set, start + 0.01) - at(mode.ln, set, start - 0.01)) / 0.02;
      for (const ends of ENDS) {
        // The anchor stays on its tooth whatever the ends do.
        const held = start - (ends * at(mode.ends, set, start)) / (slope || 1);
        const shift = combShift(lines, teethAt(set, held, ends));
        const first = Math.min(lastOf(set), Math.max(set.from, slope > 0 ? held + shift / slope : held));
        const teeth = teethAt(set, first, ends);
        const x = at(lnTension, set, first);
        const free = SETS + priceOfEnds(ends) - priorOf(x, width);
        const evidence = combEvidence(lines, teeth, MISSING) - SEARCH - free;
        if (!best || evidence > best.evidence) best = { evidence, teeth, x };
      }
    }
  return best;
}

/** The same where nothing is described: the set is one row of ratios, moved along. */
function freeComb(lines: readonly Line[], set: ToneSet): MemberComb | undefined {
  const row = teethAt(set, set.from, 0);
  let best = { evidence: Number.NEGATIVE_INFINITY, shift: 0 };
  for (const anchor of lines.slice(0, ANCHORS))
    for (const tooth of row.slice(0, ANCHOR_MODES)) {
      const shift = anchor.lnHz - tooth.lnHz;
      if (shift < 0 || shift > lastOf(set) - set.from) continue;
      const evidence = combEvidence(lines, row, MISSING, { shift, top: TOP }) - SEARCH - FREE_RATIOS;
      if (evidence > best.evidence) best = { evidence, shift };
    }
  if (best.evidence === Number.NEGATIVE_INFINITY) return undefined;
  const teeth = row.map((t) => ({ ...t, lnHz: t.lnHz + best.shift })).filter((t) => t.lnHz < TOP);
  return { evidence: best.evidence, teeth, x: set.from + best.shift };
}

function teethAt(set: ToneSet, x: number, ends: number): Tooth[] {
  const covariance = set.covariance[nearestPoint(set, x)] as Float64Array;
  const n = set.modes.length;
  const teeth: Tooth[] = [];
  set.modes.forEach((m, k) => {
    const spread = at(m.ends, set, x);
    const lnHz = at(m.ln, set, x) + ends * spread;
    if (lnHz >= TOP) return;
    const rest = Math.max(0, (covariance[k * n + k] as number) - spread * spread);
    const u = set.guess ? at(m.u, set, x) : Math.sqrt((OWN + OWN_EACH * k) ** 2 + rest);
    teeth.push({ lnHz, u, weight: 1, rank: numberAt(m, set, x) });
  });
  for (const c of set.companions) {
    const lnHz = at(c.ln, set, x);
    if (lnHz >= TOP) continue;
    teeth.push({ lnHz, u: Math.hypot(at(c.u, set, x), at(c.ends, set, x)), weight: OTHER_WEIGHT, rank: 0 });
  }
  return teeth;
}

/** ln of the prior density of this tension over an even one on the ladder. */
const priorOf = (lnTension: number, width: number): number => {
  const z = (lnTension - USUAL) / USUAL_SPREAD;
  const usual = (Math.exp(-0.5 * z * z) * width) / (USUAL_SPREAD * Math.sqrt(2 * Math.PI));
  return Math.log((1 - UNUSUAL) * usual + UNUSUAL);
};
