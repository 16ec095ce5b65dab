import { materialNamed } from './materials.ts';
import type { Nipple } from './wheel.ts';

/** Of a nipple's length, what the rim's bed and the head hide. `common practice` */
const HIDDEN_MM = 4;

const nipple = (lengthMm: number, material: 'brass' | 'aluminium 7075-T6'): Nipple => ({
  kind: 'external',
  lengthMm,
  exposedMm: lengthMm - HIDDEN_MM,
  outerDiameterMm: 4,
  material: materialNamed(material),
});

/** Generic nipples: 12, 14 and 16 mm long, 4 mm thick. `common practice` */
export const NIPPLES: Readonly<Record<string, Nipple>> = {
  'brass 12 mm': nipple(12, 'brass'),
  'brass 14 mm': nipple(14, 'brass'),
  'brass 16 mm': nipple(16, 'brass'),
  'aluminium 12 mm': nipple(12, 'aluminium 7075-T6'),
  'aluminium 14 mm': nipple(14, 'aluminium 7075-T6'),
  'aluminium 16 mm': nipple(16, 'aluminium 7075-T6'),
  internal: { ...nipple(14, 'aluminium 7075-T6'), kind: 'internal', exposedMm: 0 },
};

/** The nipple that is taken where none is said. `common practice` */
export const USUAL_NIPPLE: Nipple = nipple(12, 'brass');
