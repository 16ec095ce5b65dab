import { median } from './median.ts';
import type { Pluck, Side } from './wheel.ts';

/** Spokes in a row with the other side's tones, at least: one alone may just be slack or tight. */
const LEAST_RUN = 2;
/** The sides must lie apart by this many of their own scatters. */
const CLEAR_SCATTERS = 4;
/** A run counts if trading its sides takes away this share of the distance of the sides for each of its spokes; a true one takes all of it. */
const TRADED_SHARE = 0.6;
/** Pitches farther from their median than sides ever lie apart, ln of frequency, are none of this wheel's. */
const MOST_APART = 0.4;
/** Stiffness spreads the partials of a slack spoke by so much more than those of a tight one, ln of frequency. */
const SAME_SHIFT = 0.04;
/** Fainter than this below the loudest, a tone may be a neighbour's. */
const LOUD_DB = 20;
/** So many of the plucks with most tones are tried as the one onto which all are laid. */
const REFERENCES = 4;
/** Standard deviation of normal scatter over its median distance from the median: 1/Φ⁻¹(3/4). */
const SD_OVER_MEDIAN_DISTANCE = 1.4826;

interface Placed {
  readonly spoke: number;
  readonly isLeft: boolean;
  readonly pitch: number;
}

/**
 * The run of places where left spokes sound as right ones do and the other way round: what a slip leaves behind where sides take turns.
 *
 * Each place's pitch is the ratio that lays its tones onto those of one pluck of the wheel, whatever they are numbered, so that a weak first
 * tone does no harm. Of all runs the
 * one is taken at which pitches, sorted by side outside and by the opposite side inside, lie closest to their medians.
 *
 * @param places In the order of the walk, with the plucks that agree.
 * @returns the first spoke of the run and, where the sides are right again before the end, the last; undefined if nothing is clear
 */
export function sidesTradePlaces(
  places: readonly { readonly spoke: number; readonly side: Side; readonly plucks: readonly Pluck[] }[],
): { readonly from: number; readonly to?: number } | undefined {
  const known = pitched(places);
  const straight = fitOf(known, known.length, known.length);
  let best = { ...straight, from: known.length, to: known.length };
  for (let from = 0; from < known.length; from++)
    for (let to = from + LEAST_RUN; to <= known.length; to++) {
      const one = fitOf(known, from, to);
      if (
        one.total < best.total - 1e-12 &&
        bothSides(known.slice(from, to)) &&
        bothSides([...known.slice(0, from), ...known.slice(to)])
      )
        best = { ...one, from, to };
    }
  const inside = known.slice(best.from, best.to);
  if (inside.length === 0) return undefined;
  const scatter = SD_OVER_MEDIAN_DISTANCE * median(best.distances);
  // A run at the start and the rest after it are told apart by nothing: the change is where it ends.
  const gain = (straight.total - best.total) / Math.min(inside.length, known.length - inside.length);
  if (best.apart < CLEAR_SCATTERS * scatter || gain < TRADED_SHARE * best.apart) return undefined;
  const [first] = inside;
  const next = known[best.to];
  if (best.from === 0 && next) return { from: next.spoke };
  const last = inside.at(-1);
  return first && { from: first.spoke, ...(next && last ? { to: last.spoke } : {}) };
}

/** Where one side is walked after the other, a slip trades nothing; and all traded is nothing traded: which side is which, pitch does not know. */
const bothSides = (run: readonly Placed[]): boolean => run.some((one) => one.isLeft) && run.some((one) => !one.isLeft);

function pitched(places: Parameters<typeof sidesTradePlaces>[0]): Placed[] {
  const heard = places.map(({ plucks }) => plucks.map(lnLoud));
  const all = heard.flat();
  let onto: readonly number[] = [];
  let most = 0;
  for (const one of all.toSorted((a, b) => b.length - a.length).slice(0, REFERENCES)) {
    const laid = all.reduce((sum, other) => sum + layOnto(one, other).length, 0);
    if (laid > most) [onto, most] = [one, laid];
  }
  return places.flatMap(({ spoke, side }, i) => {
    const shifts = (heard[i] ?? []).map((one) => layOnto(onto, one)).filter((laid) => laid.length > 0);
    return shifts.length === 0 ? [] : [{ spoke, isLeft: side === 'left', pitch: median(shifts.map(median)) }];
  });
}

function lnLoud({ tones }: Pick<Pluck, 'tones'>): readonly number[] {
  const loudest = Math.max(...tones.map((tone) => tone.levelDb));
  return tones.flatMap((tone) => (tone.levelDb >= loudest - LOUD_DB ? [Math.log(tone.frequencyHz)] : []));
}

/** The ratios, ln, by which most tones of a pluck lie above another's, all about the same; of several ways the least apart. */
function layOnto(onto: readonly number[], pluck: readonly number[]): readonly number[] {
  let best: readonly number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (const low of onto)
    for (const high of pluck) {
      const shift = high - low;
      if (Math.abs(shift) > MOST_APART) continue;
      const laid = pluck.flatMap((ln) => {
        const mate = onto.find((other) => Math.abs(ln - other - shift) < SAME_SHIFT);
        return mate === undefined ? [] : [ln - mate];
      });
      if (laid.length < best.length || (laid.length === best.length && Math.abs(shift) >= least)) continue;
      best = laid;
      least = Math.abs(shift);
    }
  return best;
}

interface Fit {
  /** Between the groups' medians. */
  readonly apart: number;
  /** Of each pitch from the median of its group, `MOST_APART` at most; and all together. */
  readonly distances: readonly number[];
  readonly total: number;
}

/** The two groups that arise if the sides are traded from one index to before another. */
function fitOf(known: readonly Placed[], from: number, to: number): Fit {
  const groups: [number[], number[]] = [[], []];
  for (const [i, one] of known.entries()) groups[one.isLeft === (i >= from && i < to) ? 0 : 1].push(one.pitch);
  if (groups.some((group) => group.length === 0)) return { apart: 0, distances: [], total: Number.POSITIVE_INFINITY };
  const middles = groups.map(median);
  const distances = groups.flatMap((group, i) =>
    group.map((pitch) => Math.min(Math.abs(pitch - (middles[i] ?? pitch)), MOST_APART)),
  );
  const apart = Math.abs((middles[0] ?? 0) - (middles[1] ?? 0));
  return { apart, distances, total: distances.reduce((sum, one) => sum + one, 0) };
}
