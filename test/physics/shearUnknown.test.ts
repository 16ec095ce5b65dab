/** How much a fibre composite gives way in shear is an uncertainty of its own: in the tables, in the fit and among the reasons of the ±. */
import { describe, expect, it } from 'vitest';
import type { MeasureRefusal, Reading } from '../../src/contract.ts';
import { LINE, LINE_SIZE, lineAt, lnFrequencyAt } from '../../src/physics/lineAt.ts';
import { measureWheel } from '../../src/physics/measureWheel.ts';
import type { Member, Section } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { activeErrors } from '../../src/physics/sharedErrors.ts';
import type { SpokeTones } from '../../src/physics/spokeTones.ts';
import { newtonMetresPerRadian, newtons } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { B, described, ends, section } from './members.ts';
import { pluckOf, spokeOf, tonesOf, UNCROSSED } from './plucks.ts';

/** Carbon rod 3.2 mm between sleeves, E/κG = 30; its sections give way by so many times that. */
const rodOf = (softer: number): Member => {
  const soft = (s: Section, shear: number): Section => (softer === 0 ? s : { ...s, shear: newtons(shear / softer) });
  const sleeve = soft(section(0.03, 0.0323, 1.4, 1.4, 1.5e6), 2.4e5);
  return { sections: [sleeve, soft(section(0.2, 0.0127, 0.721, 0.721, 1.126e6), 3.75e4), sleeve] };
};
const ROD = rodOf(1);
const PREPARED = prepareMember(described(ROD));
const METAL = prepareMember(described(B));

describe('tables of a member that shears', () => {
  it('hold the exact tones as those of metal do: modes 1 and 2 within 0.005 %, all within 0.2 %', () => {
    const random = seededRandom('sheared table');
    for (const table of [PREPARED.inPlane, PREPARED.across])
      for (let i = 0; i < 100; i++) {
        const h = random.integer(0, table.hub.lnK.length - 1);
        const r = random.integer(0, table.rim.lnK.length - 1);
        const tension = random.logUniform(100, 3000);
        const e = ends(Math.exp(table.hub.lnK[h] as number), Math.exp(table.rim.lnK[r] as number));
        modes(ROD, newtons(tension), e, table.plane, { kind: 'none' }, 5).forEach((f, m) => {
          const tabulated = lnFrequencyAt(table, h * table.rim.lnK.length + r, m, Math.log(tension));
          expect(Math.abs(tabulated - Math.log(f))).toBeLessThan(m < 2 ? 5e-5 : 2e-3);
        });
      }
  });
  it('say how each tone falls as the member gives way more', () => {
    const table = PREPARED.inPlane;
    const [h, r] = [Math.floor(table.hub.lnK.length / 2), Math.floor(table.rim.lnK.length / 2)];
    const e = ends(Math.exp(table.hub.lnK[h] as number), Math.exp(table.rim.lnK[r] as number));
    const tonesAt = (softer: number): number[] => modes(rodOf(softer), newtons(900), e, 'inPlane', { kind: 'none' }, 4);
    const [more, less] = [tonesAt(1.01), tonesAt(0.99)];
    const out = new Float64Array(LINE_SIZE);
    let before = 0;
    more.forEach((f, m) => {
      lineAt(table, h * table.rim.lnK.length + r, m, Math.log(900), out);
      const exact = Math.log(f / (less[m] as number)) / 0.02;
      const linearInT = 0.03;
      expect(Math.abs((out[LINE.shear] as number) / exact - 1)).toBeLessThan(linearInT);
      expect(exact).toBeLessThan(before);
      before = exact;
    });
  });
  it('leave it out for metal, where it costs nothing', () => {
    const lines = [{ mode: 0, tied: false }];
    const [with_, without] = [activeErrors([{ lines }], PREPARED.inPlane), activeErrors([{ lines }], METAL.inPlane)];
    expect(with_.length).toBe(without.length + 1);
    expect(METAL.inPlane.sensitivity.shear.every((value) => value === 0)).toBe(true);
  });
});

describe('a side of composite rods', () => {
  const TENSIONS = [980, 1040, 1010, 950, 1075, 1020, 1000, 930, 990, 1035];
  const K = { hub: 16, rim: 22 };
  const sideOf = (truth: Member, prepared = PREPARED, known = false, count = 4): SpokeTones[] => {
    const random = seededRandom('sheared side');
    return TENSIONS.map((tension, i) => {
      const scatter = (k: number): number => k * Math.exp(random.normal(0, 0.15));
      const e = ends(scatter(K.hub), scatter(K.rim));
      const heard = modes(truth, newtons(tension), e, 'inPlane', { kind: 'none' }, count).map(
        (f, n): [number, number] => [f * (1 + random.normal(0, 0.0005)), 3 * n],
      );
      const sure = known && i === 0 ? { known: { tension: newtons(tension), u: newtons(0.02 * tension) } } : {};
      return spokeOf(prepared, [pluckOf(tonesOf(heard), UNCROSSED)], { id: i + 1, ...sure });
    });
  };
  const read = (result: Reading | MeasureRefusal | undefined): Reading => {
    if (result === undefined || !result.ok) throw new RangeError(`refused: ${result?.reason ?? 'absent'}`);
    return result;
  };
  const readingsOf = (spokes: SpokeTones[]): Reading[] => {
    const { readings } = measureWheel(spokes);
    return spokes.map(({ id }) => read(readings.get(id)));
  };
  const shearPart = (reading: Reading): number =>
    (reading.contributions.find(({ input, scope }) => input === 'shear' && scope === 'common')?.uN ?? 0) /
    reading.tensionN;

  it.each([
    ['gives way as believed', 1],
    ['gives way half as much again, 1 σ', 1.5],
    ['gives way half as much, 1 σ', 0.5],
    ['does not give way at all, 2 σ', 0],
  ])('is read within its interval where it %s', (_, softer) => {
    readingsOf(sideOf(rodOf(softer))).forEach((reading, i) => {
      const off = Math.abs(reading.tensionN - (TENSIONS[i] as number));
      expect(off).toBeLessThan(2.5 * Math.hypot(reading.uOwnN, reading.uCommonN));
    });
  });
  it('names what it does not know, shared by all spokes, until a tension is known', () => {
    // Ends of known stiffness: otherwise they take up most of what shear does to the tones.
    const end = (k: number) => ({ low: newtonMetresPerRadian(k), high: newtonMetresPerRadian(k) });
    const firm = prepareMember({ ...described(ROD), endPrior: { hub: end(K.hub), rim: end(K.rim) } });
    const alone = readingsOf(sideOf(ROD, firm, false, 2));
    const helped = readingsOf(sideOf(ROD, firm, true, 2));
    alone.forEach((reading, i) => {
      expect(shearPart(reading)).toBeGreaterThan(0);
      expect(shearPart(helped[i] as Reading)).toBeLessThan(shearPart(reading));
    });
  });
});
