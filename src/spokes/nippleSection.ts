import type { Section } from '../physics/member.ts';
import { kilogramsPerMetre, millimetres, newtonMetresSquared, newtons } from '../units.ts';
import { type DescribeRefusal, refuseDescription } from './describeRefusal.ts';
import { layerProperties, layerWrong, shapeProperties } from './layerProperties.ts';
import type { Layer, Nipple, SpokeKind } from './wheel.ts';

/**
 * The visible part of an external nipple: a stiff sleeve over the spoke's end.
 *
 * @validity The thread's depth and the bore's clearance are neglected: on a 2.0 mm spoke in a 4 mm nipple 1.5 % of this piece's
 *   stiffness, which stands for 0.1 % of tension at most; its flats likewise.
 */
export function nippleSection(
  nipple: Nipple,
  field: string,
  kind: SpokeKind,
  end: Section,
): { readonly ok: true; readonly section: Section } | DescribeRefusal {
  if (!(nipple.exposedMm >= 0 && nipple.exposedMm <= nipple.lengthMm))
    return refuseDescription('nippleImpossible', `${field}.exposedMm`, `0–${nipple.lengthMm} mm`);
  if (!(nipple.lengthMm > 0 && nipple.lengthMm <= 60))
    return refuseDescription('nippleImpossible', `${field}.lengthMm`, '0–60 mm');
  const area = Math.max(...(kind.sections.at(-1)?.layers ?? []).map((layer) => coveredArea(layer)));
  const boreMm = Math.sqrt((4 * area) / Math.PI) * 1e3;
  if (!(nipple.outerDiameterMm > boreMm))
    return refuseDescription('nippleImpossible', `${field}.outerDiameterMm`, `> ${boreMm.toFixed(1)} mm`);
  const sleeve: Layer = {
    shape: { form: 'tube', outerMm: nipple.outerDiameterMm, innerMm: boreMm },
    material: nipple.material,
  };
  const wrong = layerWrong(sleeve, field);
  if (wrong) return wrong;
  const properties = layerProperties([sleeve]);
  return {
    ok: true,
    section: {
      length: millimetres(nipple.exposedMm),
      massPerLength: kilogramsPerMetre(properties.massPerLength + end.massPerLength),
      bendingInPlane: newtonMetresSquared(properties.bendingInPlane + end.bendingInPlane),
      bendingAcross: newtonMetresSquared(properties.bendingAcross + end.bendingAcross),
      axial: newtons(properties.axial + end.axial),
      ...(end.shear === undefined ? {} : { shear: newtons(properties.shear + end.shear) }),
    },
  };
}

/** A sleeve covers its bore too. */
const coveredArea = ({ shape }: Layer): number =>
  shape.form === 'tube' ? (Math.PI * (shape.outerMm * 1e-3) ** 2) / 4 : shapeProperties(shape).area;
