import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nthSmallest } from '../../src/audio/nthSmallest.ts';

describe('the nth smallest', () => {
  it('is what stands there when the first so many are sorted, the rest untouched', () => {
    const values = fc.array(fc.oneof(fc.double({ noNaN: true }), fc.integer({ min: 0, max: 3 })), { minLength: 1 });
    fc.assert(
      fc.property(values, fc.nat(), fc.nat(), (all, a, b) => {
        const count = 1 + (a % all.length);
        const n = b % count;
        const sorted = all.slice(0, count).sort((x, y) => x - y);
        const given = Float64Array.from(all);
        expect(nthSmallest(given, count, n) === sorted[n]).toBe(true);
        expect([...given.subarray(count)]).toEqual(all.slice(count));
        expect([...given.subarray(0, count)].sort((x, y) => x - y).every((v, i) => v === sorted[i])).toBe(true);
      }),
    );
  });
});
