import { gigapascals } from '../units.ts';
import type { Layer, Material, Shape } from './wheel.ts';

/** Lighter than this is fibre composite: no metal spoke is. */
export const LIGHTEST_METAL_KG_M3 = 2400;
/** E/G of what is alike in all directions, Poisson's ratio 0.3: of metals, and at least that of a fibre composite. */
const ISOTROPIC = 2.6;
/**
 * Shear modulus along the fibre of a composite that does not state it, GPa, by its density, kg/m³: polymer, carbon, glass fibre in a resin.
 * @source as in `materials.ts`; aramid/epoxy 2.3 GPa: Tsai & Hahn, Introduction to Composite Materials (1980), from memory
 */
const BY_DENSITY = [
  { below: 1450, shearGPa: 2.3 },
  { below: 1800, shearGPa: 5.5 },
  { below: LIGHTEST_METAL_KG_M3, shearGPa: 4.5 },
] as const;

/** GPa; undefined: a metal that states none, whose shear is neglected. */
const shearModulus = ({ shearModulusGPa, densityKgM3, modulusGPa }: Material): number | undefined => {
  if (shearModulusGPa !== undefined) return shearModulusGPa;
  const usual = BY_DENSITY.find(({ below }) => densityKgM3 < below)?.shearGPa;
  return usual === undefined ? undefined : Math.min(usual, modulusGPa / ISOTROPIC);
};

/**
 * Part κ of a section's area that its shear counts with, for a material much stiffer along its fibres than in shear, whose lateral contraction hardly
 * takes part: round 6/7, flat 5/6, tube between 6/7 and 1/2. A blade's two planes differ from 5/6 by less than a tenth.
 * @source Cowper, Journal of Applied Mechanics 33 (1966), 335, at ν = 0, as for strongly orthotropic beams: Dharmarajan & McCutchen, Journal of
 *   Composite Materials 7 (1973), 530 (both from memory)
 */
const shearShare = (shape: Shape): number => {
  switch (shape.form) {
    case 'round':
      return 6 / 7;
    case 'oval':
    case 'flat':
      return 5 / 6;
    case 'tube': {
      const bore = (shape.innerMm / shape.outerMm) ** 2;
      return (6 * (1 + bore) ** 2) / (7 * (1 + bore) ** 2 + 20 * bore);
    }
  }
};

/** κG of a layer, Pa, metal with G = E/2.6. */
export const shearPerArea = ({ shape, material }: Layer): number =>
  shearShare(shape) * gigapascals(shearModulus(material) ?? material.modulusGPa / ISOTROPIC);

/** Whether a layer gives way in shear as fibre composite does; in metal that is neglected. */
export const givesInShear = ({ material }: Layer): boolean => shearModulus(material) !== undefined;
