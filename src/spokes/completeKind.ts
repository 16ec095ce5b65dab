import { CATALOGUE } from './catalogue.ts';
import { SCALE_G } from './kindSections.ts';
import { LIGHTEST_METAL_KG_M3 } from './layerShear.ts';
import { MATERIALS, type MaterialName, materialNamed } from './materials.ts';
import { NIPPLES, USUAL_NIPPLE } from './nipples.ts';
import type { Material, Nipple, SpokeKind } from './wheel.ts';
import type { KindInput, MaterialInput, NippleInput } from './wheelFileSchema.ts';
import type { WheelProblem } from './wheelProblem.ts';

/** Collects problems while a file is completed; a value stands in for what could not be found, and the file is refused. */
export type Problems = WheelProblem[];

/** Modulus uncertainty where a file gives a material's figures without it. `common practice` */
const U_MODULUS_PERCENT = 5;
const STEEL_EXPANSION = MATERIALS['stainless steel wire'].expansionPerK;

export function completeMaterial(input: MaterialInput, path: string, problems: Problems): Material {
  if (typeof input === 'string') {
    if (Object.hasOwn(MATERIALS, input)) return materialNamed(input as MaterialName);
    problems.push({ path, reason: 'unknownMaterial', detail: Object.keys(MATERIALS).join(' · ') });
    return materialNamed('stainless steel wire');
  }
  return {
    name: input.name ?? 'not named',
    modulusGPa: input.modulusGPa,
    densityKgM3: input.densityKgM3,
    uModulusPercent: input.uModulusPercent ?? U_MODULUS_PERCENT,
    expansionPerK: input.expansionPerK ?? (input.densityKgM3 < LIGHTEST_METAL_KG_M3 ? 0 : STEEL_EXPANSION),
    ...(input.uDensityPercent === undefined ? {} : { uDensityPercent: input.uDensityPercent }),
    ...(input.shearModulusGPa === undefined ? {} : { shearModulusGPa: input.shearModulusGPa }),
  };
}

export function completeKind(input: KindInput, id: string, path: string, problems: Problems): SpokeKind {
  return {
    id,
    name: input.name ?? id,
    sections: input.sections.map((section, i) => ({
      name: section.name ?? `section ${i + 1}`,
      lengthMm: section.lengthMm ?? 'rest',
      layers: section.layers.map((layer, j) => ({
        shape: layer.shape,
        material: completeMaterial(layer.material, `${path}.sections.${i}.layers.${j}.material`, problems),
      })),
      ...(section.massPerLengthGPerM === undefined ? {} : { massPerLengthGPerM: section.massPerLengthGPerM }),
    })),
    ...(input.lengths === undefined ? {} : { lengths: input.lengths }),
    ...(input.weighed
      ? { weighed: { massG: input.weighed.massG, uG: input.weighed.uG ?? SCALE_G, lengthMm: input.weighed.lengthMm } }
      : {}),
    source: input.source ?? 'not stated',
    ...(input.head === undefined ? {} : { head: input.head }),
  };
}

/** A kind of the catalogue, where the file only names it. */
export const kindOfCatalogue = (id: string): SpokeKind | undefined => CATALOGUE.find((one) => one.id === id);

export function completeNipple(input: NippleInput | undefined, path: string, problems: Problems): Nipple {
  if (input === undefined) return USUAL_NIPPLE;
  if (typeof input === 'string') {
    const named = Object.hasOwn(NIPPLES, input) ? NIPPLES[input] : undefined;
    if (named) return named;
    problems.push({ path, reason: 'unknownNipple', detail: Object.keys(NIPPLES).join(' · ') });
    return USUAL_NIPPLE;
  }
  const kind = input.kind ?? 'external';
  const lengthMm = input.lengthMm ?? USUAL_NIPPLE.lengthMm;
  const hidden = USUAL_NIPPLE.lengthMm - USUAL_NIPPLE.exposedMm;
  return {
    kind,
    lengthMm,
    exposedMm: input.exposedMm ?? (kind === 'internal' ? 0 : Math.max(0, lengthMm - hidden)),
    outerDiameterMm: input.outerDiameterMm ?? USUAL_NIPPLE.outerDiameterMm,
    material:
      input.material === undefined
        ? USUAL_NIPPLE.material
        : completeMaterial(input.material, `${path}.material`, problems),
  };
}
