import { comparePlucks, type PluckComparison } from './plucksAgree.ts';
import { type Settling, settle } from './settle.ts';
import { walkOrder } from './walkOrder.ts';
import type { Pluck, Round, Side } from './wheel.ts';

/** A round being walked. All but `spoke` and `phase` can be read off the round itself. */
export interface Walk {
  readonly round: Round;
  /** Side of each place. */
  readonly sides: readonly Side[];
  /**
   * `walking`: a pluck counts. `paused`: it does not; in free order also after each settled spoke, until the next is tapped.
   * `closing`: the first spoke is heard once more. `finished`: all is heard.
   */
  readonly phase: 'walking' | 'paused' | 'closing' | 'finished';
  /** To pluck now, from 1. */
  readonly spoke: number;
}

/** A pluck that the ear took and nobody has credited yet. */
export type HeardPluck = Omit<Pluck, 'spoke' | 'closing' | 'putAside'>;

export type WalkEvent =
  | { readonly kind: 'pluckHeard'; readonly pluck: HeardPluck }
  /** Puts this spoke's plucks aside and hears it again; where it has none, the one before. */
  | { readonly kind: 'repeat' }
  | { readonly kind: 'skip' }
  | { readonly kind: 'back' }
  | { readonly kind: 'jump'; readonly spoke: number }
  /** Moves what was heard after this spoke, in the order of the walk, by one place. */
  | { readonly kind: 'moveAllAfter'; readonly spoke: number; readonly by: 1 | -1 }
  | { readonly kind: 'pause' }
  | { readonly kind: 'resume' }
  /** Ends the round where it stands, without the closing pluck. */
  | { readonly kind: 'finish' };

/** What became of a pluck, for sound, vibration and sentence. */
export type WalkOutcome =
  | 'first' // taken, one of several wanted
  | 'agrees' // taken and agreeing, more wanted
  | 'settled'
  | 'differs' // taken, unlike the ones before
  | 'contested' // enough agree, but not with the first: pluck this spoke once more
  | 'closed' // the first spoke sounds as it did
  | 'closingDiffers'
  | 'notNow'; // paused or finished

/** One step of the walk; pure, and nothing heard is ever lost: what does not count any more is put aside. */
export function walkRound(walk: Walk, event: WalkEvent): { readonly walk: Walk; readonly outcome?: WalkOutcome } {
  switch (event.kind) {
    case 'pluckHeard':
      return hear(walk, event.pluck);
    case 'repeat': {
      const here = plucksOf(walk.round, walk.spoke).length > 0 ? walk.spoke : previousSpoke(walk);
      return { walk: { ...walk, phase: 'walking', spoke: here, round: putAside(walk.round, here) } };
    }
    case 'skip': {
      const skipped = [...new Set([...walk.round.skipped, walk.spoke])];
      return { walk: advance({ ...walk, round: { ...walk.round, skipped } }) };
    }
    case 'back':
      return { walk: { ...walk, phase: 'walking', spoke: previousSpoke(walk) } };
    case 'jump':
      if (!Number.isInteger(event.spoke) || event.spoke < 1 || event.spoke > walk.sides.length)
        throw new RangeError(`spoke ${event.spoke}: expected 1 to ${walk.sides.length}`);
      return { walk: { ...walk, phase: 'walking', spoke: event.spoke } };
    case 'moveAllAfter':
      return { walk: moveAllAfter(walk, event.spoke, event.by) };
    case 'pause':
      return { walk: walk.phase === 'finished' ? walk : { ...walk, phase: 'paused' } };
    case 'resume':
      return { walk: walk.phase === 'paused' ? resumeWalk(walk.round, walk.sides, walk.spoke) : walk };
    case 'finish':
      return { walk: { ...walk, phase: 'finished' } };
  }
}

/** Takes a saved round up again: at the given spoke, otherwise at the first that is open after the last one heard. */
export function resumeWalk(round: Round, sides: readonly Side[], spoke?: number): Walk {
  const last = round.plucks.findLast((pluck) => !pluck.closing && !pluck.putAside);
  const at = spoke ?? last?.spoke ?? walkOrder(round, sides)[0] ?? 1;
  const walk: Walk = { round, sides, phase: 'walking', spoke: at };
  if (closingOf(walk)?.agree) return { ...walk, phase: 'finished' };
  const open = settlingOf(walk, at).state !== 'settled' && !round.skipped.includes(at);
  return open ? walk : advance(walk);
}

/** Plucks that count for a spoke, in the order heard. */
export const plucksOf = (round: Round, spoke: number): readonly Pluck[] =>
  round.plucks.filter((pluck) => pluck.spoke === spoke && !pluck.closing && !pluck.putAside);

/** How a spoke stands, judged against the one before it in the walk. */
export function settlingOf(walk: Pick<Walk, 'round' | 'sides'>, spoke: number): Settling {
  const order = walkOrder(walk.round, walk.sides);
  const at = order.indexOf(spoke);
  const before = at > 0 ? order[at - 1] : undefined;
  const previous =
    before === undefined ? [] : settle(plucksOf(walk.round, before), walk.round.plucksToSettle, []).agreeing;
  return settle(plucksOf(walk.round, spoke), walk.round.plucksToSettle, previous);
}

/** Every place's settling, by place. */
export const allSettlings = (walk: Pick<Walk, 'round' | 'sides'>): readonly Settling[] =>
  walk.sides.map((_, i) => settlingOf(walk, i + 1));

/** The spoke that opens the round and closes it: the first of the walk that was settled. */
export function closingSpoke(walk: Pick<Walk, 'round' | 'sides'>): number | undefined {
  return walkOrder(walk.round, walk.sides).find((spoke) => settlingOf(walk, spoke).state === 'settled');
}

/** The first spoke at the end against the first spoke at the beginning; absent before it was heard. */
export function closingOf(walk: Pick<Walk, 'round' | 'sides'>): PluckComparison | undefined {
  const spoke = closingSpoke(walk);
  const closing = walk.round.plucks.filter((pluck) => pluck.closing && !pluck.putAside);
  const [opening] = spoke === undefined ? [] : settlingOf(walk, spoke).agreeing;
  if (opening === undefined || closing.length === 0) return undefined;
  const comparisons = closing.map((pluck) => comparePlucks(opening, pluck));
  return comparisons.find((one) => one.agree) ?? comparisons.at(-1);
}

function hear(walk: Walk, heard: HeardPluck): { readonly walk: Walk; readonly outcome: WalkOutcome } {
  if (walk.phase === 'paused' || walk.phase === 'finished') return { walk, outcome: 'notNow' };
  if (walk.phase === 'closing') {
    const pluck: Pluck = { ...heard, spoke: walk.spoke, closing: true };
    const next = { ...walk, round: { ...walk.round, plucks: [...walk.round.plucks, pluck] } };
    if (closingOf(next)?.agree) return { walk: { ...next, phase: 'finished' }, outcome: 'closed' };
    const closings = next.round.plucks.filter((one) => one.closing && !one.putAside);
    // Heard often enough and still unlike: the round ends, and the shift check says why it cannot be trusted.
    const enough = closings.length > walk.round.plucksToSettle;
    return { walk: enough ? { ...next, phase: 'finished' } : next, outcome: 'closingDiffers' };
  }
  const pluck: Pluck = { ...heard, spoke: walk.spoke };
  const round: Round = {
    ...walk.round,
    plucks: [...walk.round.plucks, pluck],
    skipped: walk.round.skipped.filter((spoke) => spoke !== walk.spoke),
  };
  const next: Walk = { ...walk, round };
  const settling = settlingOf(next, walk.spoke);
  if (settling.state === 'settled' && settling.agreeing.includes(pluck))
    return { walk: advance(next), outcome: 'settled' };
  if (settling.state === 'contested') return { walk: next, outcome: 'contested' };
  if (plucksOf(round, walk.spoke).length === 1) return { walk: next, outcome: 'first' };
  return {
    walk: next,
    outcome: settling.agreeing.includes(pluck) && settling.agreeing.length > 1 ? 'agrees' : 'differs',
  };
}

/** To the next open place; when none is left, to the first spoke once more. */
function advance(walk: Walk): Walk {
  const order = walkOrder(walk.round, walk.sides);
  const at = order.indexOf(walk.spoke);
  const open = nextOpen(walk, [...order.slice(at + 1), ...order.slice(0, at + 1)]);
  // In free order nobody knows what will be plucked next until it is tapped.
  if (open !== undefined && walk.round.order === 'free') return { ...walk, phase: 'paused' };
  return goTo(walk, open);
}

const nextOpen = (walk: Walk, turn: readonly number[]): number | undefined =>
  turn.find((spoke) => !walk.round.skipped.includes(spoke) && settlingOf(walk, spoke).state !== 'settled');

function goTo(walk: Walk, open: number | undefined): Walk {
  if (open !== undefined) return { ...walk, phase: 'walking', spoke: open };
  const first = closingSpoke(walk);
  if (first === undefined || closingOf(walk)?.agree) return { ...walk, phase: 'finished' };
  return { ...walk, phase: 'closing', spoke: first };
}

function previousSpoke(walk: Walk): number {
  const order = walkOrder(walk.round, walk.sides);
  if (walk.phase === 'closing' || walk.phase === 'finished') return order.at(-1) ?? walk.spoke;
  const at = order.indexOf(walk.spoke);
  return order[(at - 1 + order.length) % order.length] ?? walk.spoke;
}

const putAside = (round: Round, spoke: number): Round => ({
  ...round,
  plucks: round.plucks.map((pluck) => (pluck.spoke === spoke && !pluck.closing ? { ...pluck, putAside: true } : pluck)),
  skipped: round.skipped.filter((one) => one !== spoke),
});

/**
 * After spoke N one place on: N + 1 falls open, what falls off the end is put aside. One place back: N itself is replaced, its own
 * plucks are put aside. The person goes on where he stands, which is now called otherwise.
 */
function moveAllAfter(walk: Walk, spoke: number, by: 1 | -1): Walk {
  const order = walkOrder(walk.round, walk.sides);
  const after = order.indexOf(spoke);
  if (after < 0) throw new RangeError(`spoke ${spoke}: expected 1 to ${walk.sides.length}`);
  const moved = (place: number): number | undefined => {
    const at = order.indexOf(place);
    if (at === after && by === -1) return undefined;
    return at > after ? order[at + by] : place;
  };
  const plucks = walk.round.plucks.map((pluck): Pluck => {
    if (pluck.closing || pluck.putAside) return pluck;
    const to = moved(pluck.spoke);
    return to === undefined ? { ...pluck, putAside: true } : { ...pluck, spoke: to };
  });
  const skipped = walk.round.skipped.flatMap((place) => moved(place) ?? []);
  const next: Walk = { ...walk, round: { ...walk.round, plucks, skipped } };
  const here = walk.phase === 'walking' ? (moved(walk.spoke) ?? walk.spoke) : spoke;
  const at = order.indexOf(here);
  return goTo(next, nextOpen(next, [...order.slice(at), ...order.slice(0, at)]));
}
