import type { Member } from './member.ts';

/** Lowest and highest mean density that a spoke's material can have, kg/m³ (wood to tungsten; `common practice`). */
const DENSITY = { low: 300, high: 20000 };

/** Lowest and highest E/κG of a piece: isotropic rods and tubes have 2.2 to 6, rods of the stiffest fibres in a soft matrix some 250 (`common practice`). */
const SOFTNESS = { low: 2, high: 600 };

/** What no elastic member can have, with the value named; undefined if nothing is wrong. */
export const checkFigures = (member: Member): string | undefined => {
  if (member.sections.length === 0) return 'the member has no section';
  for (const [i, section] of member.sections.entries()) {
    const figures: [string, number, string][] = [
      ['length', section.length, 'm'],
      ['mass per length', section.massPerLength, 'kg/m'],
      ['bending stiffness along the rim', section.bendingInPlane, 'N·m²'],
      ['bending stiffness across', section.bendingAcross, 'N·m²'],
      ['axial stiffness', section.axial, 'N'],
    ];
    for (const [what, value, unit] of figures)
      if (!(value > 0 && Number.isFinite(value)))
        return `${what} of section ${i + 1} is ${value} ${unit}, expected above 0`;
    const { shear } = section;
    if (shear !== undefined && !(shear > 0 && Number.isFinite(shear)))
      return `shear stiffness of section ${i + 1} is ${shear} N, expected above 0`;
  }
  const total = lengthOf(member);
  const crossing = member.crossingFromHub;
  if (crossing !== undefined && !(crossing > 0 && crossing < total))
    return `crossing is ${(crossing * 1000).toFixed(1)} mm from the hub, expected inside the ${(total * 1000).toFixed(1)} mm of the member`;
  return undefined;
};

/**
 * What is impossible about a member as a spoke, in the words of the field with the value named; undefined if nothing is.
 *
 * Method: `checkFigures`, ordinary bounds of length, and the density that mass and stiffnesses together imply; wide enough for any spoke,
 * so that only gross contradictions are refused.
 */
export const checkMember = (member: Member): string | undefined => {
  const wrong = checkFigures(member);
  if (wrong !== undefined) return wrong;
  for (const [i, section] of member.sections.entries()) {
    const area = impliedArea(section.axial, section.bendingInPlane, section.bendingAcross);
    const density = section.massPerLength / area;
    if (density < DENSITY.low || density > DENSITY.high)
      return `density of section ${i + 1} is about ${density.toFixed(0)} kg/m³, expected ${DENSITY.low}..${DENSITY.high}`;
    const { shear, axial } = section;
    if (shear !== undefined && !(axial / shear >= SOFTNESS.low && axial / shear <= SOFTNESS.high))
      return `shear stiffness of section ${i + 1} is ${shear.toFixed(0)} N, expected ${(axial / SOFTNESS.high).toFixed(0)}..${(axial / SOFTNESS.low).toFixed(0)}`;
  }
  const total = lengthOf(member);
  if (total < 0.03 || total > 2) return `free length is ${(total * 1000).toFixed(1)} mm, expected 30..2000`;
  const crossing = member.crossingFromHub;
  if (crossing !== undefined && (crossing < 0.002 || crossing > total - 0.01))
    return `crossing is ${(crossing * 1000).toFixed(1)} mm from the hub, expected 2..${(total * 1000 - 10).toFixed(1)}`;
  return undefined;
};

const lengthOf = (member: Member): number => member.sections.reduce((sum, s) => sum + s.length, 0);

/**
 * Area of the solid ellipse with these stiffnesses: EI_x·EI_y / EA² = (a²/16)(b²/16) for diameters a, b, and A = π·a·b/4.
 * A flat or a tube differs by less than a factor of two.
 */
const impliedArea = (axial: number, bendingA: number, bendingB: number): number =>
  (Math.PI / 4) * 16 * (Math.sqrt(bendingA * bendingB) / axial);
