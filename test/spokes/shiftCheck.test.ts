import { describe, expect, it } from 'vitest';
import { shiftCheck } from '../../src/spokes/shiftCheck.ts';
import { settlingOf, walkRound } from '../../src/spokes/walkRound.ts';
import type { RoundOrder } from '../../src/spokes/wheel.ts';
import { seededRandom } from '../signals/random.ts';
import { pluck } from './pluck.ts';
import { misplaced, type Slip, type TonedWheel, tonedWheel, type Walked, walkSlipping } from './slippingHand.ts';

const SEEDS = 4;
/** Work, not waiting: some thousand rounds. */
const LIMIT_MS = 120_000;
const WHEELS = { dished: 0.62, 'hardly dished': 0.9, symmetric: 1 } as const;
/** From more even than any wheel is to uneven, relative standard deviation of tension. */
const SCATTERS = [0.005, 0.02, 0.05] as const;
const HANDS = ['counting', 'listening'] as const;
const ORDERS: readonly RoundOrder[] = ['byPlace', 'leftThenRight'];

/** Every wheel, hand and order with slips at places of their own. */
function everyRound(plucksToSettle: number, slipOf: (a: number, b: number) => Slip) {
  return Object.entries(WHEELS).flatMap(([name, leftOverRight]) =>
    SCATTERS.flatMap((scatter) =>
      HANDS.flatMap((hand) =>
        ORDERS.flatMap((order) =>
          Array.from({ length: SEEDS }, (_, seed) => {
            const random = seededRandom(`${name} ${scatter} ${hand} ${order} ${seed}`);
            const count = random.pick([16, 24, 32]);
            const wheel = tonedWheel(random.integer(1, 1e9), { count, leftOverRight, scatter });
            const slip = slipOf(random.integer(1, count - 1), random.integer(2, count));
            const walked = walkSlipping(seed, wheel, slip, { hand, order, plucksToSettle });
            const told = shiftCheck(walked.walk).map(({ kind }) => kind);
            return { name: `${name} ${scatter} ${hand} ${order} ${seed} ${JSON.stringify(slip)}`, wheel, walked, told };
          }),
        ),
      ),
    ),
  );
}
const misplacedIn = (walked: Walked, wheel: TonedWheel) =>
  misplaced(walked, wheel, (spoke) => {
    const settling = settlingOf(walked.walk, spoke);
    return settling.state === 'settled' ? settling.agreeing : [];
  });

describe('a hand that never looks', () => {
  it.each<[string, (a: number, b: number) => Slip]>([
    ['one pluck too many', (a) => ({ extraAt: a })],
    ['one pluck too few', (_, b) => ({ shortAt: b })],
    ['a spoke passed over', (_, b) => ({ passedAt: b })],
    ['one pluck too many and one too few', (a, b) => ({ extraAt: a, shortAt: b })],
    ['one pluck too many and a spoke passed over', (a, b) => ({ extraAt: a, passedAt: b })],
  ])(
    '%s: no place stands silently with a tone that is not its own',
    (what, slipOf) => {
      for (const plucksToSettle of [1, 2, 3]) {
        const rounds = everyRound(plucksToSettle, slipOf);
        const shifted = rounds.filter(({ walked, wheel }) => misplacedIn(walked, wheel).length > 0);
        // That the first spoke was not heard again says nothing of what went before.
        const silent = shifted.filter(({ told }) => told.every((kind) => kind === 'closingMissing'));
        console.log(
          `${what}, ${plucksToSettle} to settle: ${rounds.length} rounds, ${shifted.length} shifted, ${silent.length} silently`,
        );
        expect(silent.map(({ name }) => name)).toEqual([]);
      }
    },
    LIMIT_MS,
  );
});

describe('a hand that does not slip', () => {
  it(
    'is never told that the sides traded places',
    () => {
      for (const plucksToSettle of [1, 2, 3])
        for (const { told, name } of everyRound(plucksToSettle, () => ({})))
          expect(told, name).not.toContain('sidesTradePlaces');
    },
    LIMIT_MS,
  );

  it('on a dished wheel, where the last spoke cannot sound like the first, is told of nothing', () => {
    const rounds = everyRound(3, () => ({})).filter(({ name }) => /^dished .*byPlace/.test(name));
    expect(rounds).toHaveLength(SCATTERS.length * HANDS.length * SEEDS);
    for (const { told, name } of rounds) expect(told, name).toEqual([]);
  });
});

describe('a spoke passed over on a dished wheel', () => {
  const wheel = tonedWheel(7, { count: 24, leftOverRight: 0.62, scatter: 0.02 });
  const { walk } = walkSlipping(7, wheel, { passedAt: 11 }, { hand: 'listening' });

  it('is told with the place from which the sides have each other’s tones, and by the last spoke', () => {
    expect(shiftCheck(walk)).toEqual([
      { kind: 'sidesTradePlaces', from: 11 },
      { kind: 'lastSoundsLikeFirst', spoke: 24, first: 1 },
    ]);
  });

  it('with a spoke plucked twice over before it, the run between the two is named', () => {
    const slipped = walkSlipping(7, wheel, { extraAt: 6, passedAt: 15 }, { hand: 'counting', plucksToSettle: 1 });
    expect(shiftCheck(slipped.walk)).toContainEqual({ kind: 'sidesTradePlaces', from: 7, to: 15 });
  });
});

describe('a last spoke that sounds like the first', () => {
  const wheel: TonedWheel = { ...tonedWheel(3, { count: 16, leftOverRight: 1, scatter: 0.05 }) };
  const even: TonedWheel = {
    ...wheel,
    firstHz: wheel.firstHz.map((hz, i) => (i === 15 ? (wheel.firstHz[0] ?? hz) : hz)),
  };
  const { walk } = walkSlipping(1, even, {}, { hand: 'listening', plucksToSettle: 2 });

  it('is told where others sound otherwise; where the whole wheel sounds alike, only that is', () => {
    const alike = tonedWheel(5, { count: 16, leftOverRight: 1, scatter: 0 });
    const told = ({ sides, firstHz }: TonedWheel) =>
      shiftCheck(walkSlipping(2, { sides, firstHz }, {}, { hand: 'listening', plucksToSettle: 2 }).walk).map(
        ({ kind }) => kind,
      );
    expect(told(alike)).toEqual(['allAlike']);
    const oneOff = { ...alike, firstHz: alike.firstHz.map((hz, i) => (i === 7 ? 1.05 * hz : hz)) };
    expect(told(oneOff)).toContain('lastSoundsLikeFirst');
  });

  it('is cleared by hearing it again on purpose after the close', () => {
    expect(shiftCheck(walk).map(({ kind }) => kind)).toContain('lastSoundsLikeFirst');
    const gone = walkRound(walk, { kind: 'jump', spoke: 16 }).walk;
    const again = walkRound(gone, { kind: 'pluckHeard', pluck: pluck('again', even.firstHz[15] ?? 400) }).walk;
    expect(again.phase).toBe('finished');
    expect(shiftCheck(again).map(({ kind }) => kind)).not.toContain('lastSoundsLikeFirst');
  });
});
