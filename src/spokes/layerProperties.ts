import {
  gigapascals,
  type KilogramsPerMetre,
  kilogramsPerMetre,
  type NewtonMetresSquared,
  type Newtons,
  newtonMetresSquared,
  newtons,
} from '../units.ts';
import { type DescribeRefusal, refuseDescription } from './describeRefusal.ts';
import { givesInShear, shearPerArea } from './layerShear.ts';
import type { Layer, Material, Shape } from './wheel.ts';

/** Area in m² and second moments in m⁴ of a shape; `inPlane` bends along the rim, where a blade is wide. */
export interface ShapeProperties {
  readonly area: number;
  readonly inPlane: number;
  readonly across: number;
}

/** @source Gere & Timoshenko, Mechanics of Materials, appendix on plane areas (from memory): circle, ellipse, rectangle, ring */
export function shapeProperties(shape: Shape): ShapeProperties {
  switch (shape.form) {
    case 'round': {
      const d = shape.diameterMm * 1e-3;
      const moment = (Math.PI * d ** 4) / 64;
      return { area: (Math.PI * d ** 2) / 4, inPlane: moment, across: moment };
    }
    case 'oval': {
      const w = shape.widthMm * 1e-3;
      const t = shape.thicknessMm * 1e-3;
      return { area: (Math.PI * w * t) / 4, inPlane: (Math.PI * t * w ** 3) / 64, across: (Math.PI * w * t ** 3) / 64 };
    }
    case 'flat': {
      const w = shape.widthMm * 1e-3;
      const t = shape.thicknessMm * 1e-3;
      return { area: w * t, inPlane: (t * w ** 3) / 12, across: (w * t ** 3) / 12 };
    }
    case 'tube': {
      const o = shape.outerMm * 1e-3;
      const i = shape.innerMm * 1e-3;
      const moment = (Math.PI * (o ** 4 - i ** 4)) / 64;
      return { area: (Math.PI * (o ** 2 - i ** 2)) / 4, inPlane: moment, across: moment };
    }
  }
}

/** What one metre of bonded layers weighs and how stiff it is. */
export interface LayerProperties {
  readonly massPerLength: KilogramsPerMetre;
  readonly bendingInPlane: NewtonMetresSquared;
  readonly bendingAcross: NewtonMetresSquared;
  readonly axial: Newtons;
  /** κGA of all layers together. */
  readonly shear: Newtons;
  /** One of the layers is a fibre composite, so that shear counts. */
  readonly shears: boolean;
  /** Modulus uncertainty, weighted by each layer's share of the bending stiffness across. Relative. */
  readonly uModulusRelative: number;
  /** Density uncertainty beyond the catalogue's 1 %, weighted by mass. Relative. */
  readonly uDensityRelative: number;
}

/**
 * Adds up bonded layers: masses, bending, axial and shear stiffnesses of a sleeve over a core simply add.
 *
 * @validity The adhesive between the layers is neglected: 0.1 mm of epoxy (about 3 GPa, 1200 kg/m³) on a 2.5 mm core is 0.1 % of the
 *   stiffness and 1 % of the mass of a metal-sleeved end, which itself hardly moves.
 */
export function layerProperties(layers: readonly Layer[]): LayerProperties {
  let mass = 0;
  let inPlane = 0;
  let across = 0;
  let axial = 0;
  let shear = 0;
  let uModulus = 0;
  let uDensity = 0;
  for (const layer of layers) {
    const { shape, material } = layer;
    const s = shapeProperties(shape);
    const modulus = gigapascals(material.modulusGPa);
    mass += material.densityKgM3 * s.area;
    inPlane += modulus * s.inPlane;
    across += modulus * s.across;
    axial += modulus * s.area;
    shear += shearPerArea(layer) * s.area;
    uModulus += (material.uModulusPercent / 100) * modulus * s.across;
    uDensity += ((material.uDensityPercent ?? 0) / 100) * material.densityKgM3 * s.area;
  }
  return {
    massPerLength: kilogramsPerMetre(mass),
    bendingInPlane: newtonMetresSquared(inPlane),
    bendingAcross: newtonMetresSquared(across),
    axial: newtons(axial),
    shear: newtons(shear),
    shears: layers.some(givesInShear),
    uModulusRelative: uModulus / across,
    uDensityRelative: uDensity / mass,
  };
}

/** Bounds of what a spoke or nipple can be made of and measure; outside them a figure is a slip of the pen. */
const DENSITY_KG_M3 = [500, 20_000] as const;
const MODULUS_GPA = [1, 1000] as const;
const SHEAR_GPA = [0.3, 400] as const;
const SIZE_MM = [0.5, 12] as const;

const within = (value: number, [low, high]: readonly [number, number]): boolean => value >= low && value <= high;
const range = ([low, high]: readonly [number, number], unit: string): string => `${low}–${high} ${unit}`;

/** Refuses what no spoke is made of: a density of 80, a 0.2 mm wire, a tube thinner than its bore. */
export function layerWrong(layer: Layer, field: string): DescribeRefusal | undefined {
  const sizes = Object.entries(layer.shape).filter((entry): entry is [string, number] => typeof entry[1] === 'number');
  for (const [name, size] of sizes) {
    const smallest = name === 'innerMm' ? 0 : SIZE_MM[0];
    if (!within(size, [smallest, SIZE_MM[1]]))
      return refuseDescription('shapeImpossible', `${field}.shape.${name}`, range([smallest, SIZE_MM[1]], 'mm'));
  }
  if (layer.shape.form === 'tube' && layer.shape.innerMm >= layer.shape.outerMm)
    return refuseDescription('shapeImpossible', `${field}.shape.innerMm`, `< ${layer.shape.outerMm} mm`);
  return materialWrong(layer.material, `${field}.material`);
}

export function materialWrong(material: Material, field: string): DescribeRefusal | undefined {
  const wrong = (name: keyof Material, right: string) =>
    refuseDescription('materialImpossible', `${field}.${name}`, right);
  if (!within(material.densityKgM3, DENSITY_KG_M3)) return wrong('densityKgM3', range(DENSITY_KG_M3, 'kg/m³'));
  if (!within(material.modulusGPa, MODULUS_GPA)) return wrong('modulusGPa', range(MODULUS_GPA, 'GPa'));
  if (!within(material.uModulusPercent, [0, 100])) return wrong('uModulusPercent', '0–100 %');
  if (material.shearModulusGPa !== undefined && !within(material.shearModulusGPa, SHEAR_GPA))
    return wrong('shearModulusGPa', range(SHEAR_GPA, 'GPa'));
  if (!within(material.uDensityPercent ?? 0, [0, 50])) return wrong('uDensityPercent', '0–50 %');
  return undefined;
}
