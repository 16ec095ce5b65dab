import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shiftCheck } from '../../src/spokes/shiftCheck.ts';
import {
  allSettlings,
  resumeWalk,
  settlingOf,
  type Walk,
  type WalkEvent,
  type WalkOutcome,
  walkRound,
} from '../../src/spokes/walkRound.ts';
import type { Round, RoundOrder, Side } from '../../src/spokes/wheel.ts';
import { pluck } from './pluck.ts';

const ALTERNATING = (count: number): Side[] =>
  Array.from({ length: count }, (_, i) => (i % 2 === 0 ? 'left' : 'right'));
const round = (change: Partial<Round> = {}): Round => ({
  id: 'r',
  startedAt: '2026-01-01T00:00:00Z',
  how: { crossing: 'held', direction: 'inPlane' },
  state: { tyre: 'off' },
  order: 'byPlace',
  plucksToSettle: 2,
  plucks: [],
  skipped: [],
  ...change,
});
const start = (count: number, change: Partial<Round> = {}): Walk => resumeWalk(round(change), ALTERNATING(count));
const steps = (walk: Walk, events: readonly WalkEvent[]): { walk: Walk; outcomes: (WalkOutcome | undefined)[] } => {
  const outcomes: (WalkOutcome | undefined)[] = [];
  let at = walk;
  for (const event of events) {
    const { walk: next, outcome } = walkRound(at, event);
    at = next;
    outcomes.push(outcome);
  }
  return { walk: at, outcomes };
};
let serial = 0;
const hear = (firstHz: number): WalkEvent => ({ kind: 'pluckHeard', pluck: pluck(`p${serial++}`, firstHz) });
const hearAll = (...frequencies: number[]) => frequencies.map(hear);

/** Tones of a dished wheel, Hz, by place: all different, sides 16 % and more apart, neighbours of a side 1.1 % and more. */
const tonesOf = (count: number) =>
  Array.from({ length: count }, (_, i) => (i % 2 === 0 ? 400 : 500) * (1 + 0.011 * ((3 * Math.floor(i / 2)) % 8)));
/** Which true spoke the tone credited to each place belongs to; 0 for none. */
const creditedTo = (walk: Walk, tones: readonly number[]): number[] =>
  allSettlings(walk).map((settling) => {
    if (settling.state !== 'settled') return 0;
    const heard = (settling.agreeing[0]?.tones[0]?.frequencyHz ?? 0) / Math.sqrt(1.02);
    return 1 + tones.findIndex((tone) => Math.abs(tone / heard - 1) < 1e-6);
  });

describe('walking a round', () => {
  it('moves on by itself when two plucks agree, closes on the first spoke and is finished', () => {
    const tones = tonesOf(6);
    const { walk, outcomes } = steps(start(6), [...tones.flatMap((tone) => hearAll(tone, tone)), hear(tones[0] ?? 0)]);
    expect(outcomes).toEqual([...tones.flatMap(() => ['first', 'settled']), 'closed']);
    expect(walk.phase).toBe('finished');
    expect(shiftCheck(walk)).toEqual([]);
  });

  it('asks again when two plucks differ', () => {
    const { walk, outcomes } = steps(start(6), hearAll(400, 420, 400));
    expect(outcomes).toEqual(['first', 'differs', 'settled']);
    expect(walk.spoke).toBe(2);
    expect(settlingOf(walk, 1).dissenting).toHaveLength(1);
  });

  it('takes plucks of different partials for the same spoke where one partial is common', () => {
    const first: WalkEvent = { kind: 'pluckHeard', pluck: pluck('a', 400, { missing: [1] }) };
    const second: WalkEvent = { kind: 'pluckHeard', pluck: pluck('b', 400, { missing: [2, 3] }) };
    expect(steps(start(6), [first, second]).outcomes).toEqual(['first', 'settled']);
  });

  it('credits an extra pluck to nobody: the next spoke settles by its own', () => {
    const tones = tonesOf(8);
    const events = tones.flatMap((tone, i) => hearAll(...(i === 2 ? [tone, tone, tone] : [tone, tone])));
    const { walk } = steps(start(8), [...events, hear(tones[0] ?? 0)]);
    expect(creditedTo(walk, tones)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(walk.phase).toBe('finished');
    expect(shiftCheck(walk)).toEqual([{ kind: 'extraBefore', spoke: 4 }]);
  });

  it('does not let the next spoke settle this one when a pluck was missed', () => {
    const [a = 0, b = 0, c = 0] = tonesOf(8);
    const missed = steps(start(8), hearAll(a, b, b));
    expect(missed.outcomes).toEqual(['first', 'differs', 'contested']);
    expect(missed.walk.spoke).toBe(1);
    // The person hears it and goes back to the spoke that is asked for.
    const mended = steps(missed.walk, hearAll(a, b, b, c, c));
    expect(mended.outcomes).toEqual(['settled', 'first', 'settled', 'first', 'settled']);
    expect(creditedTo(mended.walk, tonesOf(8)).slice(0, 3)).toEqual([1, 2, 3]);
    expect(shiftCheck(mended.walk).filter((w) => w.kind === 'soundsLikeNext')).toEqual([
      { kind: 'soundsLikeNext', spoke: 1 },
    ]);
  });

  it('never shifts silently: whatever is extra or missed, each place has its own tone, or none, or a warning stands', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 15 }),
        fc.integer({ min: 0, max: 15 }),
        fc.constantFrom<RoundOrder>('byPlace', 'leftThenRight'),
        (extra, missed, order) => {
          const tones = tonesOf(16);
          const begin = start(16, { order });
          const places =
            order === 'byPlace' ? tones.map((_, i) => i) : [0, 2, 4, 6, 8, 10, 12, 14, 1, 3, 5, 7, 9, 11, 13, 15];
          // A hand that never looks: so many plucks a spoke, whatever the screen asks for.
          const events = places.flatMap((place, i) => {
            const count = 2 + (i === extra ? 1 : 0) - (i === missed ? 1 : 0);
            return hearAll(...Array.from({ length: count }, () => tones[place] ?? 0));
          });
          const { walk } = steps(begin, [...events, hear(tones[0] ?? 0)]);
          const credited = creditedTo(walk, tones);
          const shifted = credited.some((spoke, i) => spoke !== 0 && spoke !== i + 1);
          const warned = shiftCheck(walk).length > 0 || walk.phase !== 'finished';
          expect(shifted && !warned).toBe(false);
        },
      ),
    );
  });

  it('with one pluck a spoke, a slip shows by the sides and at the close', () => {
    const tones = tonesOf(16);
    const slipped = [...tones.slice(0, 7), tones[6] ?? 0, ...tones.slice(7, 15)];
    const { walk } = steps(start(16, { plucksToSettle: 1 }), [
      ...hearAll(...slipped),
      hear(tones[15] ?? 0),
      hear(tones[0] ?? 0),
    ]);
    const kinds = shiftCheck(walk).map((warning) => warning.kind);
    expect(kinds).toContain('sidesTradePlaces');
    expect(shiftCheck(walk)).toContainEqual({ kind: 'sidesTradePlaces', from: 8 });
  });

  it('says when the first spoke sounds otherwise at the end, and by how much', () => {
    const tones = tonesOf(6);
    const { walk } = steps(start(6), [...tones.flatMap((tone) => hearAll(tone, tone)), ...hearAll(404, 404, 404)]);
    expect(walk.phase).toBe('finished');
    const [warning] = shiftCheck(walk);
    expect(warning?.kind).toBe('closingDiffers');
    expect(warning && 'driftPercent' in warning ? warning.driftPercent : 0).toBeCloseTo(1, 6);
  });

  it('asks for the first spoke once more and says when it was never heard', () => {
    const tones = tonesOf(6);
    const { walk } = steps(
      start(6),
      tones.flatMap((tone) => hearAll(tone, tone)),
    );
    expect(walk.phase).toBe('closing');
    expect(walk.spoke).toBe(1);
    expect(shiftCheck(walk)).toEqual([{ kind: 'closingMissing', spoke: 1 }]);
  });

  it('skips, goes back, jumps, repeats and comes round to what is open', () => {
    const skipped = walkRound(start(6), { kind: 'skip' }).walk;
    expect(skipped.spoke).toBe(2);
    const back = walkRound(skipped, { kind: 'back' }).walk;
    expect(back.spoke).toBe(1);
    const heard = steps(back, hearAll(400, 400)).walk;
    expect(heard.round.skipped).toEqual([]);
    expect(heard.spoke).toBe(2);
    const jumped = walkRound(heard, { kind: 'jump', spoke: 5 }).walk;
    const further = steps(jumped, hearAll(450, 450, 460, 460)).walk;
    expect(further.spoke).toBe(2);
    const again = walkRound(further, { kind: 'repeat' }).walk;
    expect(again.spoke).toBe(1);
    expect(settlingOf(again, 1).state).toBe('open');
    expect(again.round.plucks).toHaveLength(6);
    expect(() => walkRound(heard, { kind: 'jump', spoke: 7 })).toThrow('spoke 7');
  });

  it('takes no pluck while paused, and goes on where it was', () => {
    const { walk, outcomes } = steps(start(6), [
      hear(400),
      { kind: 'pause' },
      hear(400),
      { kind: 'resume' },
      hear(400),
    ]);
    expect(outcomes).toEqual(['first', undefined, 'notNow', undefined, 'settled']);
    expect(walk.spoke).toBe(2);
  });

  it('can be taken up from the round alone', () => {
    const tones = tonesOf(6);
    const events = [...tones.flatMap((tone) => hearAll(tone, tone)), hear(tones[0] ?? 0)];
    for (let n = 0; n < events.length; n++) {
      const { walk } = steps(start(6), events.slice(0, n));
      const resumed = resumeWalk(walk.round, walk.sides);
      expect({ spoke: resumed.spoke, phase: resumed.phase }).toEqual({ spoke: walk.spoke, phase: walk.phase });
    }
  });

  it('in free order waits for a tap after each settled spoke', () => {
    const { walk, outcomes } = steps(start(6, { order: 'free' }), [
      ...hearAll(400, 400, 500),
      { kind: 'jump', spoke: 4 },
      ...hearAll(500, 500),
    ]);
    expect(outcomes).toEqual(['first', 'settled', 'notNow', undefined, 'first', 'settled']);
    expect(settlingOf(walk, 4).state).toBe('settled');
  });

  it('walks one side and then the other, from the spoke that was chosen', () => {
    const sides = ALTERNATING(6);
    const walked = (order: RoundOrder) => {
      let walk = resumeWalk(round({ order, firstSpoke: 3 }), sides);
      const seen: number[] = [];
      for (let i = 0; i < 6; i++) {
        seen.push(walk.spoke);
        walk = steps(walk, hearAll(400, 400)).walk;
      }
      return seen;
    };
    expect(walked('leftThenRight')).toEqual([3, 5, 1, 4, 6, 2]);
    expect(walked('rightThenLeft')).toEqual([4, 6, 2, 3, 5, 1]);
    expect(walked('byPlace')).toEqual([3, 4, 5, 6, 1, 2]);
  });
});

describe('moving all after a spoke', () => {
  const tones = tonesOf(6);
  const walked = steps(
    start(6),
    tones.slice(0, 4).flatMap((tone) => hearAll(tone, tone)),
  ).walk;

  it('by one place on leaves that place open and goes on where the person stands', () => {
    const { walk } = walkRound(walked, { kind: 'moveAllAfter', spoke: 2, by: 1 });
    expect(creditedTo(walk, tones)).toEqual([1, 2, 0, 3, 4, 0]);
    expect(walk.spoke).toBe(6);
    expect(steps(walk, hearAll(450, 450)).walk.spoke).toBe(3);
  });

  it('by one place back replaces the spoke and keeps its plucks aside', () => {
    const { walk } = walkRound(walked, { kind: 'moveAllAfter', spoke: 2, by: -1 });
    expect(creditedTo(walk, tones)).toEqual([1, 3, 4, 0, 0, 0]);
    expect(walk.round.plucks.filter((one) => one.putAside)).toHaveLength(2);
    expect(walk.spoke).toBe(4);
  });

  it('on and back again is where it was', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 5 }), (spoke) => {
        const on = walkRound(walked, { kind: 'moveAllAfter', spoke, by: 1 }).walk;
        // Back over the place that fell open: nothing is replaced there.
        const back = walkRound(on, { kind: 'moveAllAfter', spoke: spoke + 1, by: -1 }).walk;
        expect(creditedTo(back, tones)).toEqual(creditedTo(walked, tones));
      }),
    );
  });
});
