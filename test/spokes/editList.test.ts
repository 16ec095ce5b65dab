import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { addSpoke, asList, removeSpoke } from '../../src/spokes/editList.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import type { ListedLayout } from '../../src/spokes/wheel.ts';
import { plainWheel } from './plainWheel.ts';

const list = (): ListedLayout => {
  const laid = expandLayout(plainWheel().layout);
  const made = laid.ok ? asList(laid.spokes) : undefined;
  if (made === undefined) throw new RangeError('no list');
  return made;
};
const laidOf = (layout: ListedLayout) => {
  const laid = expandLayout(layout);
  if (!laid.ok) throw new RangeError(`${laid.field}: ${laid.reason} ${laid.detail}`);
  return laid.spokes;
};

describe('a laced wheel as a list', () => {
  it('keeps every length and crossing to a hundredth of a millimetre, and every partner', () => {
    const wheel = plainWheel();
    const laced = expandLayout(wheel.layout);
    if (!laced.ok) throw new RangeError(laced.reason);
    for (const [i, spoke] of laidOf(list()).entries()) {
      const before = laced.spokes[i];
      expect(Math.abs((spoke.supportLength ?? 0) - (before?.supportLength ?? 1))).toBeLessThan(0.006e-3);
      expect(Math.abs((spoke.crossingFromHub ?? 0) - (before?.crossingFromHub ?? 1))).toBeLessThan(0.006e-3);
      expect(spoke.crossingPartner).toBe(before?.crossingPartner);
      expect(spoke.side).toBe(before?.side);
    }
    expect(describeMember({ ...wheel, layout: list() }, 1).ok).toBe(true);
  });

  it('is not made of a wheel whose lengths nobody knows', () => {
    const laid = expandLayout({ kind: 'evenness', sides: ['left', 'right', 'left', 'right'] });
    expect(laid.ok && asList(laid.spokes)).toBeUndefined();
  });
});

describe('adding and removing spokes', () => {
  it('an added one is like its side’s neighbour, lies midway and touches none', () => {
    const before = list();
    const after = addSpoke(before, 4);
    const [added] = after.spokes.slice(4, 5);
    expect(after.spokes).toHaveLength(33);
    expect(added?.side).toBe(before.spokes[2]?.side);
    expect(added?.supportLengthMm).toBe(before.spokes[2]?.supportLengthMm);
    expect(added?.crossingPartner).toBeUndefined();
    expect(added?.crossingFromHubMm).toBeUndefined();
    expect(added?.rimAngleDeg).toBeCloseTo(
      ((before.spokes[3]?.rimAngleDeg ?? 0) + (before.spokes[4]?.rimAngleDeg ?? 0)) / 2,
      2,
    );
  });

  it('whichever is added or removed, the list can be laid out and the others touch as before', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 32 }), fc.boolean(), (place, adds) => {
        const before = list();
        const spokes = laidOf(adds ? addSpoke(before, place) : removeSpoke(before, place));
        const old = (number: number): number | undefined =>
          adds
            ? number === place + 1
              ? undefined
              : number > place
                ? number - 1
                : number
            : number >= place
              ? number + 1
              : number;
        for (const spoke of spokes) {
          const was = old(spoke.number);
          const mate = was === undefined ? undefined : before.spokes[was - 1]?.crossingPartner;
          const gone = !adds && mate === place;
          expect(spoke.touching).toBe(mate !== undefined && !gone);
          if (spoke.crossingPartner !== undefined) expect(old(spoke.crossingPartner)).toBe(mate);
        }
      }),
      { numRuns: 64 },
    );
  });

  it('adding and removing the same one gives the list back', () => {
    const before = list();
    for (const place of [0, 1, 15, 32]) expect(removeSpoke(addSpoke(before, place), place + 1)).toEqual(before);
  });

  it('the first and the last have each other for neighbours over the valve hole', () => {
    const before = list();
    const angle = addSpoke(before, 32).spokes[32]?.rimAngleDeg ?? -1;
    expect(Math.min(angle, 360 - angle)).toBeLessThan(0.01);
  });

  it('gives no angle where the list gives none', () => {
    const bare: ListedLayout = { kind: 'list', spokes: list().spokes.map(({ rimAngleDeg: _, ...rest }) => rest) };
    expect(addSpoke(bare, 3).spokes[3]?.rimAngleDeg).toBeUndefined();
  });

  it('a place that does not exist is a mistake of the caller', () => {
    expect(() => addSpoke(list(), 33)).toThrow('after 33');
    expect(() => removeSpoke(list(), 0)).toThrow('spoke 0');
  });
});
