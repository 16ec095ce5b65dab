import { expect, it } from 'vitest';
import { HELD_DISCREPANCY, holdOf } from '../../src/physics/holdErrors.ts';
import { measureWheel } from '../../src/physics/measureWheel.ts';
import type { Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { HOLD_MASS, modelled, SHARED } from '../../src/physics/sharedErrors.ts';
import type { SpokeTones } from '../../src/physics/spokeTones.ts';
import { metres, newtons, newtonsPerMetre } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { described, ends, round } from './members.ts';
import { pluckOf, spokeOf, tonesOf } from './plucks.ts';

const MEMBER: Member = {
  sections: [round(0.268, 0.002), round(0.012, 0.004, 97e9, 8500)],
  crossingFromHub: metres(0.075),
};

/** Modes of the segment between crossing and rim among those of the whole; the fourth lives between hub and crossing. */
const SEGMENT = [0, 1, 2, 4];
/** Tones of a crossing held by a spring that carries a mass: at each tone it holds with K − m·ω² (statics of a mass on a spring). */
const tonesWithMass = (tension: number, stiffness: number, mass: number): number[] => {
  const at = (holding: number): number[] => {
    const held = { kind: 'support', stiffness: newtonsPerMetre(holding) } as const;
    return modes(MEMBER, newtons(tension), ends(12, 30), 'inPlane', held, 5);
  };
  return SEGMENT.map((mode) => {
    let f = at(stiffness)[mode] as number;
    for (let pass = 0; pass < 20; pass++) f = at(stiffness - mass * (2 * Math.PI * f) ** 2)[mode] as number;
    return f;
  });
};

/** Tables are within 2e-5 of exact frequencies (`prepareMember`). */
const TABLE = 2e-5;

it('moves each tone by what a small mass takes from the hold', () => {
  const prepared = prepareMember(described(MEMBER));
  const { inPlane: table, endPrior } = prepared;
  const tension = newtons(900);
  for (const at of [0, 1, 2, 3]) {
    const node = at * table.rim.lnK.length + 3;
    const hub = Math.sqrt(endPrior.hub.low * endPrior.hub.high);
    const rim = Math.exp(table.rim.lnK[3] as number);
    const toneOf = (stiffness: number, mode: number): number => {
      const held = { kind: 'support', stiffness: newtonsPerMetre(stiffness) } as const;
      return modes(MEMBER, tension, ends(hub, rim), 'inPlane', held, 5)[mode] as number;
    };
    const mass = 5e-4;
    const errors = new Float64Array(SHARED);
    const moved = Float64Array.from(errors);
    moved[HOLD_MASS] = mass;
    for (const mode of [0, 1, 2]) {
      const shift = (e: Float64Array) => modelled(table, node, mode, Math.log(tension), e, false);
      const hold = holdOf(table, node);
      const f = toneOf(hold, mode);
      const exact = Math.log(toneOf(hold - mass * (2 * Math.PI * f) ** 2, mode) / f);
      // Second order in the part that is taken; and what a table is good for.
      const part = (mass * (2 * Math.PI * f) ** 2) / hold;
      expect(Math.abs(shift(moved) - shift(errors) - exact)).toBeLessThan((0.1 + 2 * part) * Math.abs(exact) + TABLE);
    }
  }
});

it('stays within its interval where flesh of some grams moves with the held crossing', () => {
  const prepared = prepareMember(described(MEMBER));
  for (const mass of [0.002, 0.004]) {
    const random = seededRandom(`fingers ${mass}`);
    const tensions = Array.from({ length: 10 }, () => 900 * (1 + random.normal(0, 0.05)));
    const spokes = tensions.map((tension, i): SpokeTones => {
      const heard = tonesOf(
        tonesWithMass(tension, 8e5, mass).map((f, n): [number, number] => [f * (1 + random.normal(0, 0.0003)), 3 * n]),
      );
      return spokeOf(prepared, [pluckOf(heard, { crossing: 'held', direction: 'inPlane' })], { id: i + 1 });
    });
    const { readings } = measureWheel(spokes);
    tensions.forEach((tension, i) => {
      const reading = readings.get(i + 1);
      if (reading?.ok !== true) throw new RangeError(`refused: ${reading?.reason ?? 'absent'}`);
      expect(Math.abs(reading.tensionN - tension)).toBeLessThan(2 * Math.hypot(reading.uOwnN, reading.uCommonN));
    });
  }
});

it('knows a held side no better than its model, unless one tension is known', () => {
  const prepared = prepareMember(described(MEMBER));
  const how = { crossing: 'held', direction: 'inPlane' } as const;
  const sideOf = (known: boolean): SpokeTones[] =>
    [860, 900, 880, 930, 890, 910, 870, 905].map((tension, i) => {
      const heard = tonesOf(tonesWithMass(tension, 3e6, 0).map((f, n): [number, number] => [f, 3 * n]));
      const weighedIn = known && i < 4 ? { known: { tension: newtons(tension), u: newtons(0.005 * tension) } } : {};
      return spokeOf(prepared, [pluckOf(heard, how)], { id: i + 1, ...weighedIn });
    });
  const common = (known: boolean): number => {
    const reading = measureWheel(sideOf(known)).readings.get(8);
    if (reading?.ok !== true) throw new RangeError(`refused: ${reading?.reason ?? 'absent'}`);
    return reading.uCommonN / reading.tensionN;
  };
  // 1 % of mass and 1.5 % of discrepancy alone.
  expect(common(false)).toBeGreaterThan(Math.hypot(0.01, HELD_DISCREPANCY));
  expect(common(true)).toBeLessThan(0.01);
});
