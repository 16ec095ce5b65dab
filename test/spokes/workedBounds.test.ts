import { describe, expect, it } from 'vitest';
import type { Member } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { workedBounds } from '../../src/spokes/workedBounds.ts';
import {
  hertz,
  kilogramsPerMetre,
  metres,
  newtonMetresPerRadian,
  newtonMetresSquared,
  newtons,
} from '../../src/units.ts';

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
    const pinned = workedBounds(member(length), MASS, length, tone(length, tension, 0));
    const clamped = workedBounds(member(length), MASS, length, tone(length, tension, Number.POSITIVE_INFINITY));
    expect(Math.abs((pinned?.pinned ?? 0) / tension - 1)).toBeLessThan(percent(0.001));
    expect(Math.abs((clamped?.clamped ?? 0) / tension - 1)).toBeLessThan(percent(1));
  });

  it('hold the tension between them, whatever the ends', () => {
    for (const k of [0.5, 5, 20, 100]) {
      const bounds = workedBounds(member(0.21), MASS, 0.21, tone(0.21, 900, k));
      expect(bounds?.clamped).toBeLessThan(900);
      expect(bounds?.pinned).toBeGreaterThan(900);
    }
  });

  it('give none for a tone below the bending tone', () => {
    expect(workedBounds(member(0.21), MASS, 0.21, hertz(20))).toBeUndefined();
  });
});
