import { CATALOGUE } from '../../src/spokes/catalogue.ts';
import { MATERIALS } from '../../src/spokes/materials.ts';
import type { Layer, Shape } from '../../src/spokes/wheel.ts';

const shapeText = (shape: Shape): string => {
  switch (shape.form) {
    case 'round':
      return `round ${shape.diameterMm}`;
    case 'tube':
      return `tube ${shape.outerMm} over ${shape.innerMm}`;
    default:
      return `${shape.form} ${shape.widthMm} × ${shape.thicknessMm}`;
  }
};
const layerText = ({ shape, material }: Layer): string => `${shapeText(shape)} ${material.name}`;

/** Rows of the written description, as the code has them. */
export const materialRows = (): readonly string[] =>
  Object.values(MATERIALS).map(
    ({ name, modulusGPa, uModulusPercent, densityKgM3, expansionPerK, shearModulusGPa }) =>
      `| \`${name}\` | ${modulusGPa} | ${uModulusPercent} | ${densityKgM3} | ${Number((expansionPerK * 1e6).toFixed(2))} | ${shearModulusGPa ?? '–'} |`,
  );
export const kindRows = (): readonly string[] =>
  CATALOGUE.map(({ id, sections }) => {
    const made = sections.map(({ lengthMm, layers }) => `${lengthMm}: ${layers.map(layerText).join(' + ')}`);
    return `| \`${id}\` | ${made.join('; ')} |`;
  });
