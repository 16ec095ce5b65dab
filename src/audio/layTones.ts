import type { HeardTone } from './proposeModes.ts';
import { at, lastOf, parameterAt, type SetTone, type ToneSet } from './toneSet.ts';

/** Tones laid against a set. */
export interface LaidTones {
  /** Mode of each tone, 0 where it is none of the set. */
  readonly modes: number[];
  /** Distance of each tone from its mode when all are known, in standard uncertainties of that mode alone. */
  readonly misfit: number[];
  /** ln of how much likelier each tone is where it was looked for than anywhere; 0 for the first, which was not looked for. */
  readonly gain: number[];
  /** Parameter of the set. */
  readonly x: number;
  readonly lnFirst: number;
  readonly uFirst: number;
}

/** Standard deviations within which a tone may be taken for a mode. */
const REACH = 3;
/** Tones may lie anywhere within this many factors of e. */
const LN_RANGE = Math.log(8000 / 100);
/** Standard deviation of the parameter before the first tone: none to speak of. */
const ANYWHERE = 10;

/** Parameter and departure of the ends, with their covariance. */
interface State {
  x: number;
  s: number;
  xx: number;
  xs: number;
  ss: number;
}

/**
 * Lays the tones against a set with one of them as a given mode.
 * The set has two unknowns, its parameter and how far the ends depart from their mean; each tone found tells them better
 * (extended Kalman update), so the next is looked for where those before it imply it and as closely as they do. First outward
 * from the given mode, then once more from the loudest to the faintest, so that a neighbour's faint tone moves nothing.
 * @returns undefined where the given mode has that frequency at no parameter of the set.
 */
export function layTones(
  set: ToneSet,
  anchor: number,
  anchorMode: SetTone,
  tones: readonly HeardTone[],
  lns: readonly number[],
  loudness: readonly number[],
): LaidTones | undefined {
  const modes = tones.map(() => 0);
  const gain = tones.map(() => 0);
  let state: State | undefined;
  const lay = (order: readonly SetTone[], first: number): State | undefined => {
    const start = parameterAt(order[0] as SetTone, set, lns[first] as number);
    if (start === undefined) return undefined;
    modes.fill(0);
    gain.fill(0);
    const now: State = { x: start, s: 0, xx: ANYWHERE ** 2, xs: 0, ss: 1 };
    order.forEach((mode, k) => {
      const { ln, u } = predict(now, mode, set);
      const best = k === 0 ? first : nearest(tones, lns, modes, ln, u);
      if (best < 0) return;
      const off = (lns[best] as number) - ln;
      const worth = k === 0 ? 0 : Math.log(LN_RANGE / (u * 2.5)) - 0.5 * (off / u) ** 2;
      learn(now, mode, set, off);
      const mate = (tones[best] as HeardTone).pairId;
      tones.forEach((t, i) => {
        if (i !== best && (mate === undefined || t.pairId !== mate || modes[i] !== 0)) return;
        modes[i] = mode.mode;
        gain[i] = worth;
      });
    });
    return now;
  };
  const apart = (m: SetTone) => Math.abs(m.mode - anchorMode.mode);
  state = lay(
    [...set.modes].sort((a, b) => apart(a) - apart(b)),
    anchor,
  );
  if (!state) return undefined;
  // The loudest tone of each mode, and from there the modes by loudness.
  const lead = (m: SetTone) => {
    let best = -1;
    modes.forEach((n, i) => {
      if (n === m.mode && (best < 0 || (loudness[i] as number) > (loudness[best] as number))) best = i;
    });
    return best;
  };
  const ranked = set.modes.map((mode) => {
    const i = lead(mode);
    return { mode, i, loud: i < 0 ? -1 : (loudness[i] as number) };
  });
  ranked.sort((a, b) => b.loud - a.loud);
  state =
    lay(
      ranked.map((r) => r.mode),
      (ranked[0] as { i: number }).i,
    ) ?? state;
  const end = state;
  const misfit = tones.map((_, i) => {
    const mode = set.modes.find((m) => m.mode === modes[i]);
    return mode ? ((lns[i] as number) - predict(end, mode, set).ln) / at(mode.u, set, end.x) : 0;
  });
  // Both tones of a doublet count as the one that fits.
  tones.forEach((t, i) => {
    if (t.pairId === undefined) return;
    tones.forEach((other, k) => {
      if (
        other.pairId === t.pairId &&
        modes[k] === modes[i] &&
        Math.abs(misfit[k] as number) < Math.abs(misfit[i] as number)
      )
        misfit[i] = misfit[k] as number;
    });
  });
  const first = predict(end, set.modes[0] as SetTone, set);
  return { modes, misfit, gain, x: end.x, lnFirst: first.ln, uFirst: first.u };
}

/** Where a mode is to be expected, and how closely. */
function predict(now: State, mode: SetTone, set: ToneSet): { ln: number; u: number } {
  const slope = slopeOf(mode, set, now.x);
  const ends = at(mode.ends, set, now.x);
  const u = at(mode.u, set, now.x);
  return {
    ln: lnAt(mode, set, now.x) + now.s * ends,
    u: Math.sqrt(u * u + slope * slope * now.xx + 2 * slope * ends * now.xs + ends * ends * now.ss),
  };
}

/** A tone was found so far from where its mode was expected. */
function learn(now: State, mode: SetTone, set: ToneSet, off: number) {
  const slope = slopeOf(mode, set, now.x);
  const ends = at(mode.ends, set, now.x);
  const u = at(mode.u, set, now.x);
  const px = now.xx * slope + now.xs * ends;
  const ps = now.xs * slope + now.ss * ends;
  const total = slope * px + ends * ps + u * u;
  now.x = Math.max(set.from, Math.min(lastOf(set), now.x + (px / total) * off));
  now.s += (ps / total) * off;
  now.xx -= (px * px) / total;
  now.xs -= (px * ps) / total;
  now.ss -= (ps * ps) / total;
}

const lnAt = (mode: SetTone, set: ToneSet, x: number) => at(mode.ln, set, x);
const slopeOf = (mode: SetTone, set: ToneSet, x: number) => {
  const h = set.guess ? 0.25 * set.step : set.step;
  const low = Math.max(set.from, x - h);
  const high = Math.min(lastOf(set), x + h);
  return (at(mode.ln, set, high) - at(mode.ln, set, low)) / (high - low);
};

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
