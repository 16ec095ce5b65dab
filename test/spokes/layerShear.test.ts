import { describe, expect, it } from 'vitest';
import { checkMember } from '../../src/physics/checkMember.ts';
import { layerProperties } from '../../src/spokes/layerProperties.ts';
import type { Layer, Material } from '../../src/spokes/wheel.ts';
import { metres } from '../../src/units.ts';

const layerOf = (modulusGPa: number, densityKgM3: number, shearModulusGPa?: number): Layer => {
  const material: Material = {
    name: 'typed',
    modulusGPa,
    densityKgM3,
    uModulusPercent: 5,
    expansionPerK: 0,
    ...(shearModulusGPa === undefined ? {} : { shearModulusGPa }),
  };
  return { shape: { form: 'round', diameterMm: 3 }, material };
};
const AREA = (Math.PI / 4) * 0.003 ** 2;

describe('the shear of a layer', () => {
  it('is no firmer than that of a material alike in all directions: a plastic rod is no composite', () =>
    expect(layerProperties([layerOf(3, 1150)]).shear).toBeCloseTo((6 / 7) * (3e9 / 2.6) * AREA, 9));

  it.each([
    ['plastic', 3, 1150],
    ['wood', 12, 600],
    ['glass fibre', 45, 2000],
    ['the stiffest carbon', 500, 1750],
    ['a polymer of the stiffest kind', 280, 1400],
  ])('leaves %s, typed before there was a field for it, a member that can be', (_, modulusGPa, densityKgM3) => {
    const { shears, shear, massPerLength, bendingInPlane, bendingAcross, axial } = layerProperties([
      layerOf(modulusGPa, densityKgM3),
    ]);
    expect(shears).toBe(true);
    const section = { length: metres(0.25), massPerLength, bendingInPlane, bendingAcross, axial, shear };
    expect(checkMember({ sections: [section] })).toBeUndefined();
  });

  it('of metal counts only where the person states it', () => {
    expect(layerProperties([layerOf(190, 7900)]).shears).toBe(false);
    expect(layerProperties([layerOf(190, 7900, 73)]).shears).toBe(true);
  });
});
