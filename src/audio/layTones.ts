import { commonRise, glideMisfit, glideOdds, tensionRise } from './glideOdds.ts';
import type { ToneList } from './toneList.ts';
import { at, lastOf, nearestPoint, parameterAt, type SetTone, type ToneSet } from './toneSet.ts';

/** Tones laid against a set; overwritten when others are laid into it. */
export interface LaidTones {
  /** Place of each tone in the set, from 1; 0 where it is none of the set. */
  readonly places: Int8Array;
  /** Distance of each tone from its mode when all are known, in standard uncertainties of that mode alone. */
  readonly misfit: Float64Array;
  /** ln of how much likelier each tone is where it was looked for than anywhere; 0 for the first, which was not looked for. */
  readonly gain: Float64Array;
  /** What the glide of each says for its mode, nats: against another spoke's or, where the set is a guess, against the likeliest one. */
  readonly glides: Float64Array;
  lnFirst: number;
  uFirst: number;
}
export const emptyLaid = (count: number): LaidTones => ({
  places: new Int8Array(count),
  misfit: new Float64Array(count),
  gain: new Float64Array(count),
  glides: new Float64Array(count),
  lnFirst: 0,
  uFirst: 0,
});

/** Standard deviations within which a tone may be taken for a mode. */
const REACH = 3;
/** Tones may lie anywhere within this many factors of e. */
const LN_RANGE = Math.log(8000 / 100);
/** Standard deviation of the parameter before the first tone: none to speak of. */
const ANYWHERE = 10;
/** Nats of misfit that a factor e of amplitude outweighs when several tones are near. */
const LOUDER = 4;
const ROOT_2PI = Math.sqrt(2 * Math.PI);

// One problem at a time: what the tones laid so far tell of the modes of a set, and each mode's uncertainty for itself.
const MOST_MODES = 16;
const ln = new Float64Array(MOST_MODES);
const own = new Float64Array(MOST_MODES);
const covariance = new Float64Array(MOST_MODES * MOST_MODES);
const rise = new Float64Array(MOST_MODES);
const row = new Float64Array(MOST_MODES);
const order = new Int8Array(MOST_MODES);
const lead = new Int8Array(MOST_MODES);
const level = new Float64Array(MOST_MODES);
const share = new Float64Array(MOST_MODES);

/**
 * Lays the tones against a set with one of them as a given mode.
 * Each tone found tells the modes better (Kalman update of all of them), so the next is looked for where those before it imply
 * it and as closely as they do. First outward from the given mode, then once more from the loudest to the faintest, so that a
 * neighbour's faint tone moves nothing, with the set as it is at the first tone then known and with the rise of the tension that most
 * tones then tell.
 * @param anchorMode index of the given mode in the set, which has at most 16.
 * @returns false where the given mode has that frequency at no parameter of the set.
 * @source Kalman 1960, J. Basic Eng. 82:35
 */
export function layTones(set: ToneSet, anchor: number, anchorMode: number, tones: ToneList, laid: LaidTones): boolean {
  const start = parameterAt(set.modes[anchorMode] as SetTone, set, tones.ln[anchor] as number);
  if (start === undefined) return false;
  const n = set.modes.length;
  const count = tones.ln.length;
  orderOutward(anchorMode, n);
  const anchorRise = tensionRise(tones, anchor, at((set.modes[anchorMode] as SetTone).share, set, start));
  layInOrder(set, start, anchor, tones, anchorRise, laid);
  const x = Math.max(set.from, Math.min(lastOf(set), ln[0] as number));
  // Where nothing but the given mode was found there is no other order.
  let given = anchor;
  let tighter = anchorRise;
  if (orderByLevel(laid.places, tones, n) > 1) {
    given = lead[order[0] as number] as number;
    tighter = commonRise(tones, set, x, lead);
    layInOrder(set, x, given, tones, tighter, laid);
  }
  const { misfit, glides } = laid;
  for (let i = 0; i < count; i++) {
    const m = (laid.places[i] as number) - 1;
    misfit[i] = 0;
    // Free ratios have no tones between hub and crossing, which glide too: what they leave over need not be another spoke's.
    if (m >= 0 && (set.guess || i === given)) glides[i] = glideMisfit(tones, i, tighter * (share[m] as number));
    if (m >= 0) misfit[i] = ((tones.ln[i] as number) - (ln[m] as number)) / (own[m] as number);
  }
  // Both tones of a doublet count as the one that fits.
  for (let i = 0; i < count; i++) {
    const k = tones.mate[i] as number;
    if (k >= 0 && laid.places[k] === laid.places[i] && Math.abs(misfit[k] as number) < Math.abs(misfit[i] as number))
      misfit[i] = misfit[k] as number;
  }
  laid.lnFirst = ln[0] as number;
  laid.uFirst = Math.sqrt(covariance[0] as number);
  return true;
}

/** The modes from the given one on to both sides. */
function orderOutward(from: number, n: number) {
  let k = 0;
  for (let apart = 0; k < n; apart++) {
    if (from - apart >= 0) order[k++] = from - apart;
    if (apart > 0 && from + apart < n) order[k++] = from + apart;
  }
}

/** The modes by their strongest tones, those without any last; the tones into `lead`. @returns how many modes have one. */
function orderByLevel(places: Int8Array, { lnLevel }: ToneList, n: number): number {
  lead.fill(-1, 0, n);
  for (let i = 0; i < places.length; i++) {
    const m = (places[i] as number) - 1;
    if (m < 0) continue;
    const best = lead[m] as number;
    if (best < 0 || (lnLevel[i] as number) > (lnLevel[best] as number)) lead[m] = i;
  }
  let found = 0;
  for (let m = 0; m < n; m++) {
    const i = lead[m] as number;
    level[m] = i < 0 ? Number.NEGATIVE_INFINITY : (lnLevel[i] as number);
    if (i >= 0) found++;
  }
  // Insertion keeps the order outward among equals.
  for (let k = 1; k < n; k++) {
    const m = order[k] as number;
    let at = k;
    for (; at > 0 && (level[order[at - 1] as number] as number) < (level[m] as number); at--)
      order[at] = order[at - 1] as number;
    order[at] = m;
  }
  return found;
}

/**
 * Lays one tone after the other in the order of the modes, the first of them given, near one first tone of the set.
 * @param tighter relative rise of the tension at the onset; 0 where it is not told.
 */
function layInOrder(
  set: ToneSet,
  x: number,
  first: number,
  tones: ToneList,
  tighter: number,
  { places, gain, glides }: LaidTones,
) {
  const n = set.modes.length;
  places.fill(0);
  gain.fill(0);
  glides.fill(0);
  open(set, x);
  for (let k = 0; k < n; k++) {
    const m = order[k] as number;
    const u = Math.sqrt((covariance[m * n + m] as number) + (own[m] as number) ** 2);
    const glide = tighter * (share[m] as number);
    const best = k === 0 ? first : nearest(tones, places, ln[m] as number, u, glide);
    if (best < 0) continue;
    const off = (tones.ln[best] as number) - (ln[m] as number);
    const here = -Math.log(u * ROOT_2PI) - 0.5 * (off / u) ** 2;
    const odds = k === 0 ? 0 : glideOdds(tones, best, glide);
    const neighbours = tones.neighbours[best] as number;
    // Free ratios place the modes too loosely to tell a neighbour's tone from the spoke's own by its place alone.
    const worth = k === 0 ? 0 : here - Math.log(1 / LN_RANGE + (set.guess ? 0 : neighbours));
    if (k > 0 && here + odds < Math.log(1 / LN_RANGE + (set.guess && odds >= 0 ? 0 : neighbours))) continue;
    learn(k, n, off);
    places[best] = m + 1;
    gain[best] = worth;
    glides[best] = odds;
    const mate = tones.mate[best] as number;
    if (mate >= 0 && places[mate] === 0) {
      places[mate] = m + 1;
      gain[mate] = worth;
      glides[mate] = odds;
    }
  }
}

/** The set as it is near one first tone, which itself is not known. */
function open(set: ToneSet, x: number) {
  const n = set.modes.length;
  const points = (set.modes[0] as SetTone).ln.length;
  const p = Math.max(0, Math.min(points - 1, (x - set.from) / set.step));
  const i = Math.min(points - 2, Math.floor(p));
  const f = p - i;
  const known = set.covariance[nearestPoint(set, x)] as Float64Array;
  for (let m = 0; m < n; m++) {
    const mode = set.modes[m] as SetTone;
    const low = mode.ln[i] as number;
    const high = mode.ln[i + 1] as number;
    ln[m] = (1 - f) * low + f * high;
    own[m] = mode.u[i] as number;
    share[m] = mode.share[i] as number;
    rise[m] = (high - low) / set.step;
  }
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++)
      covariance[a * n + b] = (known[a * n + b] as number) + ANYWHERE ** 2 * (rise[a] as number) * (rise[b] as number);
}

/** The tone of the `k`th mode in order was found so far from where it was expected. What is asked later are the later modes and the first. */
function learn(k: number, n: number, off: number) {
  const m = order[k] as number;
  for (let b = 0; b < n; b++) row[b] = covariance[m * n + b] as number;
  const total = (row[m] as number) + (own[m] as number) ** 2;
  for (let i = 0; i < n; i++) {
    const a = order[i] as number;
    const share = (row[a] as number) / total;
    ln[a] = (ln[a] as number) + share * off;
    if (i <= k && a !== 0) continue;
    for (let b = 0; b < n; b++) covariance[a * n + b] = (covariance[a * n + b] as number) - share * (row[b] as number);
  }
}

/** The tone meant by an expected one: of several within reach the loud one, unless it is far worse placed. −1: none. */
function nearest(tones: ToneList, places: Int8Array, expected: number, u: number, glide: number): number {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  let choice = false;
  for (let i = 0; i < places.length; i++) {
    const d = Math.abs((tones.ln[i] as number) - expected) / u;
    if (d > REACH || places[i] !== 0) continue;
    let cost = d * d - LOUDER * (tones.lnAmplitude[i] as number);
    if (best >= 0 && glide > 0) {
      // Where there is no choice the glide need not be asked.
      if (!choice) least -= 2 * glideOdds(tones, best, glide);
      choice = true;
      cost -= 2 * glideOdds(tones, i, glide);
    }
    if (cost < least) {
      least = cost;
      best = i;
    }
  }
  return best;
}
