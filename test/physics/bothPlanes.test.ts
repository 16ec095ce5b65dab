import { describe, expect, it } from 'vitest';
import type { How, MeasureRefusal, Reading } from '../../src/contract.ts';
import { measureWheel } from '../../src/physics/measureWheel.ts';
import type { Ends, Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import type { SpokeTones } from '../../src/physics/spokeTones.ts';
import { newtonMetresPerRadian, newtons } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { described, section } from './members.ts';
import { pluckOf, spokeOf, tonesOf } from './plucks.ts';

/** A composite blade 4.2 × 1.7 mm between bonded ends, no crossing: E 135 GPa, 1580 kg/m³. */
const end = (length: number) => section(length, 0.032, 1.9, 1.3, 1.2e6);
const BLADE: Member = {
  sections: [end(0.02), { ...section(0.23, 0.00886, 0.834, 0.137, 7.57e5) }, end(0.025)],
};
const PREPARED = prepareMember(described(BLADE));
const TENSIONS = [980, 1040, 1010, 950, 1075, 1020, 1000, 930];
const k = (inPlane: number, across: number) => ({
  inPlane: newtonMetresPerRadian(inPlane),
  across: newtonMetresPerRadian(across),
});

/** A side plucked along the rim or across the wheel; of the other plane two weaker tones are heard, or none. Ends differ by plane. */
const side = (direction: How['direction'], withOther: boolean): SpokeTones[] => {
  const random = seededRandom(`planes ${direction}`);
  const how: How = { crossing: 'none', direction };
  return TENSIONS.map((tension, i) => {
    const scatter = (x: number) => x * Math.exp(random.normal(0, 0.15));
    const ends: Ends = { hub: k(scatter(9), scatter(16)), rim: k(scatter(20), scatter(11)) };
    const of = (plane: 'inPlane' | 'across', louder: number): [number, number][] =>
      modes(BLADE, newtons(tension), ends, plane, { kind: 'none' }, 2).map((f, n) => [
        f * (1 + random.normal(0, 0.0005)),
        louder + 3 * n,
      ]);
    const main = direction === 'across' ? 'across' : 'inPlane';
    const other = main === 'across' ? 'inPlane' : 'across';
    const heard = tonesOf(withOther ? [...of(main, 0), ...of(other, 14)] : of(main, 0));
    return spokeOf(PREPARED, [pluckOf(heard, how)], { id: i + 1 });
  });
};
const readingsOf = (spokes: SpokeTones[]): Reading[] => {
  const { readings } = measureWheel(spokes);
  return spokes.map(({ id }) => read(readings.get(id)));
};
const read = (result: Reading | MeasureRefusal | undefined): Reading => {
  if (result === undefined || !result.ok) throw new RangeError(`refused: ${result?.reason ?? 'absent'}`);
  return result;
};
const uOf = (r: Reading): number => Math.hypot(r.uOwnN, r.uCommonN) / r.tensionN;

describe('an uncrossed blade heard in both planes', () => {
  for (const direction of ['inPlane', 'across'] as const)
    it(`is known better than in one, plucked ${direction}`, () => {
      const one = readingsOf(side(direction, false));
      const both = readingsOf(side(direction, true));
      both.forEach((reading, i) => {
        const off = Math.abs(reading.tensionN / (TENSIONS[i] as number) - 1);
        expect(off).toBeLessThan(2.5 * uOf(reading));
        expect(uOf(reading)).toBeLessThan(uOf(one[i] as Reading));
      });
      // A weak tone may be left out for want of evidence, but not on most spokes.
      const planesOf = ({ assignment }: Reading): Set<string> =>
        new Set(assignment.filter((a) => a.mode > 0).map((a) => a.plane));
      expect(both.filter((reading) => planesOf(reading).size === 2).length).toBeGreaterThan(both.length / 2);
    });
});
