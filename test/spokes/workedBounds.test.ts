import { describe, expect, it } from 'vitest';
import type { Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { CATALOGUE } from '../../src/spokes/catalogue.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { workedBounds } from '../../src/spokes/workedBounds.ts';
import {
  hertz,
  kilogramsPerMetre,
  metres,
  newtonMetresPerRadian,
  newtonMetresSquared,
  newtons,
  newtonsPerMetre,
} from '../../src/units.ts';
import { plainWheel } from './plainWheel.ts';

const RIGID = { kind: 'support', stiffness: newtonsPerMetre(Number.POSITIVE_INFINITY) } as const;

/** 2.0 mm round steel: E 190 GPa, 7900 kg/m³. */
const BENDING = (190e9 * Math.PI * 0.002 ** 4) / 64;
const MASS = 7900 * Math.PI * 0.001 ** 2;
const member = (length: number): Member => ({
  sections: [
    {
      length: metres(length),
      massPerLength: kilogramsPerMetre(MASS),
      bendingInPlane: newtonMetresSquared(BENDING),
      bendingAcross: newtonMetresSquared(BENDING),
      axial: newtons(190e9 * Math.PI * 0.001 ** 2),
    },
  ],
});
const tone = (length: number, tension: number, k: number) => {
  const end = newtonMetresPerRadian(k);
  const ends = { hub: { inPlane: end, across: end }, rim: { inPlane: end, across: end } };
  const [first] = modes(member(length), newtons(tension), ends, 'inPlane', { kind: 'none' }, 1);
  return first ?? hertz(Number.NaN);
};
const percent = (value: number) => value / 100;

describe('the two formulas for a calculator', () => {
  it.each([
    [0.29, 1000],
    [0.2, 1000],
    [0.29, 400],
    [0.2, 600],
  ])('give back the tension of a wire of %d m at %d N with pinned and with clamped ends', (length, tension) => {
    // Against the exact modes (Wittrick–Williams): an independent method.
    const pinned = workedBounds(member(length), tone(length, tension, 0));
    const clamped = workedBounds(member(length), tone(length, tension, Number.POSITIVE_INFINITY));
    expect(Math.abs((pinned?.pinned ?? 0) / tension - 1)).toBeLessThan(percent(0.001));
    expect(Math.abs((clamped?.clamped?.tension ?? 0) / tension - 1)).toBeLessThan(percent(1));
  });

  it('hold the tension between them, whatever the ends', () => {
    for (const k of [0.5, 5, 20, 100]) {
      const bounds = workedBounds(member(0.21), tone(0.21, 900, k));
      expect(bounds?.clamped?.tension).toBeLessThan(900);
      expect(bounds?.pinned).toBeGreaterThan(900);
    }
  });

  it.each(Object.entries(CATALOGUE))(
    'hold it for %s as it is laced, nipple, butts and all, whatever the ends',
    (_, kind) => {
      const wheel = plainWheel({}, {}, kind);
      for (const spoke of [1, 2]) {
        const described = describeMember(wheel, spoke);
        if (!described.ok) throw new Error(described.reason);
        const whole = described.described.member;
        for (const tension of [400, 900, 1300])
          for (const k of [0.05, 1, 5, 20, 100]) {
            const end = newtonMetresPerRadian(k);
            const ends = { hub: { inPlane: end, across: end }, rim: { inPlane: end, across: end } };
            const [first] = modes(whole, newtons(tension), ends, 'inPlane', RIGID, 1);
            const bounds = first && workedBounds(whole, first);
            if (!bounds) throw new Error(`${tension} N, k ${k}`);
            expect(bounds.clamped?.tension ?? 0, `${tension} N, k ${k}`).toBeLessThan(tension);
            // Sine shapes for pieces: a hair of a percent at the pinned end of the range.
            expect(bounds.pinned, `${tension} N, k ${k}`).toBeGreaterThan(tension * (1 - percent(0.5)));
          }
      }
    },
  );

  it('count a piece by how far the tone moves it: all of one kind give that kind, a heavy nipple hardly anything', () => {
    const bounds = workedBounds(member(0.21), hertz(450));
    expect(bounds?.massPerLength).toBeCloseTo(MASS, 12);
    expect(bounds?.bending).toBeCloseTo(BENDING, 12);
    const wheel = plainWheel();
    const described = describeMember(wheel, 1);
    if (!described.ok) throw new Error(described.reason);
    const laced = workedBounds(described.described.member, hertz(600));
    // 8 mm of 209: (2π²/3)(8/209)³ = 0.04 % of its fourfold mass.
    expect(Math.abs((laced?.massPerLength ?? 0) / MASS - 1)).toBeLessThan(percent(0.3));
  });

  it('give none for a tone below the bending tone', () => {
    expect(workedBounds(member(0.21), hertz(20))).toBeUndefined();
  });
});
