import type { Reading } from '../contract.ts';
import { type Newtons, newtons } from '../units.ts';
import type { Limits, WheelState } from './wheel.ts';

/** U = COVERAGE · u, about 95 %. @source JCGM 100:2008, 6.2 */
export const COVERAGE = 2;
/** Rooms of one workshop differ by this much: 4 N each kelvin on a steel spoke at most (rigid rim), under 1.2 % of 1000 N together. */
const SAME_TEMPERATURE_K = 3;
const SAME_PRESSURE_BAR = 0.2;

export type LimitWord = 'over' | 'probablyOver' | 'cannotBeCleared' | 'within' | 'probablyUnder' | 'under' | 'noLimit';

export interface LimitVerdict {
  readonly word: LimitWord;
  /** As judged: after correction to the limit's state, where there is one. */
  readonly tension: Newtons;
  /** Expanded, k = 2, own and common together. */
  readonly expanded: Newtons;
  /** The limit that decided, and which. */
  readonly limit?: { readonly kind: 'minimum' | 'maximum'; readonly value: Newtons };
  /**
   * `state`: the limit holds for another state of the wheel; `interval`: it lies inside the interval; `limitsContradict`: the minimum
   * lies above the maximum, and nothing is judged by either.
   */
  readonly because?: 'state' | 'interval' | 'limitsContradict';
}

/** What a tension becomes in the limit's state, from rim and spoke (MODEL.md). */
export interface StateCorrection {
  readonly shift: Newtons;
  readonly u: Newtons;
}

/**
 * Judges one tension against the maker's limits.
 *
 * Over the maximum only if the whole interval T ± U lies above it, within only if it lies inside both limits; in between the words say so.
 * A limit that holds for another state than the wheel was heard in clears nothing without a correction. What no maker stated is not judged.
 *
 * @source Decision rule with guard band w = U after JCGM 106:2012, 8.3
 */
export function limitVerdict(
  reading: Pick<Reading, 'tensionN' | 'uOwnN' | 'uCommonN'>,
  limits: Limits | undefined,
  state: WheelState,
  correction?: StateCorrection,
): LimitVerdict {
  const u = Math.hypot(reading.uOwnN, reading.uCommonN, correction?.u ?? 0);
  const tension = newtons(reading.tensionN + (correction?.shift ?? 0));
  const expanded = newtons(COVERAGE * u);
  const judged = { tension, expanded };
  const { minimumN, maximumN } = limits ?? {};
  if (limits === undefined || (minimumN === undefined && maximumN === undefined)) return { ...judged, word: 'noLimit' };
  if (minimumN !== undefined && maximumN !== undefined && minimumN > maximumN)
    return { ...judged, word: 'noLimit', because: 'limitsContradict' };
  const maximum = maximumN === undefined ? undefined : ({ kind: 'maximum', value: newtons(maximumN) } as const);
  const minimum = minimumN === undefined ? undefined : ({ kind: 'minimum', value: newtons(minimumN) } as const);
  const low = tension - expanded;
  const high = tension + expanded;
  const elsewhere = correction === undefined && !sameState(state, limits.state);
  // An inflated tyre only ever lowers a spoke's tension, so what is over with it is over without it.
  const tyreHides = elsewhere && state.tyre === 'on' && limits.state.tyre === 'off';
  if (maximum && low > maximum.value && (!elsewhere || tyreHides)) return { ...judged, word: 'over', limit: maximum };
  if (elsewhere) {
    const nearest = closest(tension, minimum, maximum);
    return { ...judged, word: 'cannotBeCleared', ...(nearest ? { limit: nearest } : {}), because: 'state' };
  }
  if (minimum && high < minimum.value) return { ...judged, word: 'under', limit: minimum };
  if (maximum && tension > maximum.value)
    return { ...judged, word: 'probablyOver', limit: maximum, because: 'interval' };
  if (minimum && tension < minimum.value)
    return { ...judged, word: 'probablyUnder', limit: minimum, because: 'interval' };
  const nearest = closest(tension, minimum, maximum);
  const straddles = (maximum && high > maximum.value) || (minimum && low < minimum.value);
  if (straddles && nearest) return { ...judged, word: 'cannotBeCleared', limit: nearest, because: 'interval' };
  return { ...judged, word: 'within', ...(nearest ? { limit: nearest } : {}) };
}

type Bound = NonNullable<LimitVerdict['limit']>;
const closest = (tension: number, minimum: Bound | undefined, maximum: Bound | undefined): Bound | undefined => {
  if (minimum === undefined || maximum === undefined) return minimum ?? maximum;
  return tension - minimum.value < maximum.value - tension ? minimum : maximum;
};

/** Whether a limit's state is the wheel's, as far as both are said. A limit that names no temperature holds for a room's. */
export function sameState(now: WheelState, limit: WheelState): boolean {
  if (now.tyre === 'unknown' || limit.tyre === 'unknown' || now.tyre !== limit.tyre) return false;
  const apart = (a: number | undefined, b: number | undefined, most: number) =>
    b !== undefined && (a === undefined || Math.abs(a - b) > most);
  if (now.tyre === 'on' && apart(now.pressureBar, limit.pressureBar, SAME_PRESSURE_BAR)) return false;
  return !(now.temperatureC !== undefined && apart(now.temperatureC, limit.temperatureC, SAME_TEMPERATURE_K));
}
