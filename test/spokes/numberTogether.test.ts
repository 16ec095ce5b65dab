import { describe, expect, it } from 'vitest';
import { numberTogether } from '../../src/spokes/numberTogether.ts';
import { relativeTensions } from '../../src/spokes/relativeTensions.ts';
import type { Pluck } from '../../src/spokes/wheel.ts';
import { pluck } from './pluck.ts';

/** A pluck with the ear's proposal. */
const proposed = (one: Pluck, modes: readonly number[], score: number): Pluck => ({
  ...one,
  hypotheses: [{ modes, plane: 'unknown', family: 'whole', score, guess: true }],
});
const heard = (id: string, firstHz: number, missing: readonly number[] = []): Pluck =>
  pluck(id, firstHz, { missing }) as Pluck;

describe('the plucks of one spoke', () => {
  it('are numbered by the surest of them: one without its first tone does not count from its second', () => {
    const whole = proposed(heard('a', 500), [1, 2, 3, 4], 0.87);
    const rest = proposed(heard('b', 500, [1]), [1, 2, 3], 0.3);
    expect(numberTogether([whole, rest])).toEqual([
      [1, 2, 3, 4],
      [2, 3, 4],
    ]);
    expect(numberTogether([rest, whole])).toEqual([
      [2, 3, 4],
      [1, 2, 3, 4],
    ]);
  });

  it('without a proposal, by the one that reaches lowest', () => {
    const modes = numberTogether([heard('a', 500, [1]), heard('b', 500)]);
    expect(modes[0]).toEqual(modes[1]?.slice(1));
    expect(modes[1]?.[0]).toBe(1);
  });

  it('lend a tone that the surest lacks its own number only where the two are nowhere at odds', () => {
    const surest = proposed(heard('a', 500, [3]), [1, 2, 4], 0.8);
    const alike = proposed(heard('b', 500), [1, 2, 3, 4], 0.5);
    const other = proposed(heard('c', 500), [2, 3, 4, 0], 0.5);
    expect(numberTogether([surest, alike, other])).toEqual([
      [1, 2, 4],
      [1, 2, 3, 4],
      [1, 2, 0, 4],
    ]);
  });

  it('leave the mean of their side where it is', () => {
    const plucks = (spoke: number): Pluck[] => [
      proposed(heard(`${spoke}a`, 500), [1, 2, 3, 4], 0.87),
      spoke === 3
        ? proposed(heard('3b', 500, [1]), [1, 2, 3], 0.3)
        : proposed(heard(`${spoke}b`, 500), [1, 2, 3, 4], 0.87),
    ];
    const used = new Map([1, 2, 3, 4].map((spoke) => [spoke, plucks(spoke)]));
    for (const { deviationPercent } of relativeTensions(used, ['left', 'left', 'left', 'left']))
      expect(deviationPercent).toBeCloseTo(0, 9);
  });
});
