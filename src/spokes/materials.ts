import type { Material } from './wheel.ts';

export type MaterialName =
  | 'stainless steel wire'
  | 'spring steel wire'
  | 'titanium 6Al-4V'
  | 'aluminium 7075-T6'
  | 'aluminium 6061-T6'
  | 'brass'
  | 'carbon fibre, along the fibre'
  | 'glass fibre, along the fibre';

export interface SourcedMaterial extends Material {
  readonly name: MaterialName;
  readonly source: string;
}

/**
 * Materials by name, the defaults of every field that asks for one. Uncertainties are standard ones (1 σ) of the spread among published
 * values, not of a given wire.
 */
export const MATERIALS: Readonly<Record<MaterialName, SourcedMaterial>> = {
  'stainless steel wire': {
    name: 'stainless steel wire',
    modulusGPa: 190,
    densityKgM3: 7900,
    uModulusPercent: 4,
    expansionPerK: 16.0e-6,
    source:
      'density and expansion: EN 10088-1, steel 1.4301; modulus: between 193 GPa (handbook tables, 302/304 wire) and 180 GPa (EN 10270-3, as drawn, from memory)',
  },
  'spring steel wire': {
    name: 'spring steel wire',
    modulusGPa: 203,
    densityKgM3: 7850,
    uModulusPercent: 2,
    expansionPerK: 11.7e-6,
    source: 'modulus 200–207 GPa and density: handbook tables of music wire; expansion from memory',
  },
  'titanium 6Al-4V': {
    name: 'titanium 6Al-4V',
    modulusGPa: 114,
    densityKgM3: 4430,
    uModulusPercent: 4,
    expansionPerK: 8.6e-6,
    source: 'published data sheets of the alloy: 113.8–114 GPa, others 105–120 GPa; 8.6e-6/K from 20 to 100 °C',
  },
  'aluminium 7075-T6': {
    name: 'aluminium 7075-T6',
    modulusGPa: 71.7,
    densityKgM3: 2810,
    uModulusPercent: 1.5,
    expansionPerK: 23.5e-6,
    source: 'published data sheets of the alloy: 70–72 GPa',
  },
  'aluminium 6061-T6': {
    name: 'aluminium 6061-T6',
    modulusGPa: 68.9,
    densityKgM3: 2700,
    uModulusPercent: 1.5,
    expansionPerK: 23.6e-6,
    source: 'published data sheets of the alloy: 69 GPa, 2700 kg/m³',
  },
  brass: {
    name: 'brass',
    modulusGPa: 97,
    densityKgM3: 8490,
    uModulusPercent: 4,
    expansionPerK: 20.5e-6,
    source: 'free-cutting brass C36000, published data sheets: 8490–8500 kg/m³; modulus and expansion from memory',
  },
  'carbon fibre, along the fibre': {
    name: 'carbon fibre, along the fibre',
    modulusGPa: 140,
    densityKgM3: 1580,
    uModulusPercent: 10,
    expansionPerK: 0,
    uDensityPercent: 2,
    shearModulusGPa: 5.5,
    source:
      'unidirectional carbon/epoxy: 145 GPa and 1580 kg/m³ (published laminate data, AS4 class); pultruded rods 120–150 GPa and 1500–1620 kg/m³ (from memory); in shear 7.17 GPa (T300/5208: Tsai & Hahn 1980), 5.5 and 6.6 GPa (Soden, Hinton & Kaddour 1998), pultruded 4–5 GPa (all from memory)',
  },
  'glass fibre, along the fibre': {
    name: 'glass fibre, along the fibre',
    modulusGPa: 45,
    densityKgM3: 2000,
    uModulusPercent: 12,
    expansionPerK: 7e-6,
    uDensityPercent: 3,
    shearModulusGPa: 4.5,
    source:
      'rule of mixtures at fibre fractions 0.5–0.6 with 72 GPa, 2540 kg/m³ and 3.4 GPa, 1200 kg/m³ (from memory); in shear 4.14 GPa (E-glass/epoxy: Tsai & Hahn 1980), 5.83 GPa (Soden, Hinton & Kaddour 1998, both from memory)',
  },
};

/** A catalogue material by its name, as plain data. */
export function materialNamed(name: MaterialName): Material {
  const { source: _, ...material } = MATERIALS[name];
  return material;
}

/**
 * A unidirectional composite of which only the fibre fraction is known.
 *
 * @param fibreFraction By volume, 0 to 1 exclusive.
 * @throws RangeError if the fraction is not between 0 and 1.
 * @source Rule of mixtures: Kaw, Mechanics of Composite Materials (2006), ch. 3: E₁ = V_f E_f + V_m E_m, ρ = V_f ρ_f + V_m ρ_m; in shear, where both parts
 *   state it, Halpin & Tsai with ξ = 1: G = G_m (1 + ηV_f)/(1 − ηV_f), η = (G_f − G_m)/(G_f + G_m)
 */
export function fibreComposite(fibre: Material, matrix: Material, fibreFraction: number): Material {
  if (!(fibreFraction > 0 && fibreFraction < 1))
    throw new RangeError(`fibre fraction ${fibreFraction}: expected more than 0 and less than 1`);
  const mixed = (of: (material: Material) => number) => fibreFraction * of(fibre) + (1 - fibreFraction) * of(matrix);
  const modulusGPa = mixed((m) => m.modulusGPa);
  const [ofFibre, ofMatrix] = [fibre.shearModulusGPa, matrix.shearModulusGPa];
  return {
    name: `${fibre.name} ${Math.round(fibreFraction * 100)} % in ${matrix.name}`,
    modulusGPa,
    densityKgM3: mixed((m) => m.densityKgM3),
    uModulusPercent: mixed((m) => m.uModulusPercent * m.modulusGPa) / modulusGPa,
    // Each part pulls with its own stiffness.
    expansionPerK: mixed((m) => m.expansionPerK * m.modulusGPa) / modulusGPa,
    uDensityPercent: mixed((m) => m.uDensityPercent ?? 0),
    ...(ofFibre === undefined || ofMatrix === undefined
      ? {}
      : { shearModulusGPa: mixedInShear(ofFibre, ofMatrix, fibreFraction) }),
  };
}

const mixedInShear = (fibre: number, matrix: number, fraction: number): number => {
  const eta = (fibre - matrix) / (fibre + matrix);
  return (matrix * (1 + eta * fraction)) / (1 - eta * fraction);
};
