import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { divide } from '../../src/desk/divide.ts';

const round = (plucksASpoke: readonly number[], within = 1, between = 3): number[] => {
  const onsets: number[] = [];
  let t = 0.5;
  for (const count of plucksASpoke) {
    for (let i = 0; i < count; i++) {
      onsets.push(t);
      t += within;
    }
    t += between - within;
  }
  return onsets;
};

describe('dividing a recorded round by its pauses', () => {
  test('the N − 1 longest pauses are the borders, however many plucks a spoke got', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 2, maxLength: 40 }), (counts) => {
        const divided = divide(round(counts), { spokeCount: counts.length });
        expect(divided.ok && divided.groups.map((group) => group.length)).toEqual(counts);
      }),
    );
  });

  test('a spoke that was left out is refused, not shifted', () => {
    const divided = divide(round([2, 2, 2, 2, 2]), { spokeCount: 6 });
    expect(divided).toMatchObject({ ok: false, reason: 'pausesNotClear' });
  });

  test('a stray sound between two spokes, and another at the end in place of the border that it hid, are refused, not shifted', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4, max: 36 }),
        fc.integer({ min: 1, max: 2 }),
        fc.nat(),
        fc.double({ min: 0.3, max: 0.7, noNaN: true }),
        (spokes, plucks, where, part) => {
          const clean = round(new Array(spokes).fill(plucks), 0.8, 2);
          const border = plucks * (1 + (where % (spokes - 1))) - 1;
          const [before = 0, after = 0] = clean.slice(border, border + 2);
          const stray = before + part * (after - before);
          const onsets = [...clean, (clean.at(-1) ?? 0) + 2.5, stray].sort((a, b) => a - b);
          expect(divide(onsets, { spokeCount: spokes })).toMatchObject({ ok: false, reason: 'pausesNotClear' });
          const least = divide(onsets, { spokeCount: spokes, leastPauseS: 1.5 });
          expect(least).toMatchObject({ ok: false, reason: 'pausesNotClear' });
        },
      ),
    );
  });

  test('fewer plucks than spokes are refused', () => {
    expect(divide([1, 2, 3], { spokeCount: 4 })).toMatchObject({ ok: false, reason: 'tooFewPlucks' });
  });

  test('a least pause that gives another number of groups than the wheel has spokes is refused', () => {
    expect(divide(round([2, 2, 2]), { spokeCount: 4, leastPauseS: 2.5 })).toMatchObject({
      ok: false,
      reason: 'groupsDoNotFit',
      detail: '3 groups for 4 spokes',
    });
  });

  test('a missed pluck does not move the borders', () => {
    const divided = divide(round([2, 1, 2, 2]), { spokeCount: 4 });
    expect(divided.ok && divided.groups.map((group) => group.length)).toEqual([2, 1, 2, 2]);
  });

  test('without a spoke count the clearest step between pauses decides', () => {
    const divided = divide(round([2, 3, 2]), {});
    expect(divided.ok && divided.groups.map((group) => group.length)).toEqual([2, 3, 2]);
  });

  test('without a spoke count evenly spaced plucks are one group each', () => {
    const divided = divide([1, 3, 5, 7], {});
    expect(divided.ok && divided.groups).toHaveLength(4);
  });

  test('onsets that do not ascend are a bug', () => {
    expect(() => divide([2, 1], { spokeCount: 2 })).toThrow(RangeError);
  });
});
