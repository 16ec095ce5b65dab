import type { Member } from './member.ts';

/** Lowest and highest mean density that a spoke's material can have, kg/m³ (wood to tungsten; `common practice`). */
const DENSITY = { low: 300, high: 20000 };

/**
 * What is impossible about a member, in the words of the field with the value named; undefined if nothing is.
 *
 * Method: bounds of each figure, and the density that mass per length and stiffness together imply: for a solid bar
 * EA·EI ranges over E²·A²·r² with r the radius of gyration, so only gross contradictions are refused.
 */
export const checkMember = (member: Member): string | undefined => {
  if (member.sections.length === 0) return 'the member has no section';
  let total = 0;
  for (const [i, section] of member.sections.entries()) {
    const name = `section ${i + 1}`;
    const figures: [string, number, string][] = [
      ['length', section.length, 'm'],
      ['mass per length', section.massPerLength, 'kg/m'],
      ['bending stiffness along the rim', section.bendingInPlane, 'N·m²'],
      ['bending stiffness across', section.bendingAcross, 'N·m²'],
      ['axial stiffness', section.axial, 'N'],
    ];
    for (const [what, value, unit] of figures)
      if (!(value > 0 && Number.isFinite(value))) return `${what} of ${name} is ${value} ${unit}, expected above 0`;
    if (section.massPerLength > 10)
      return `mass per length of ${name} is ${section.massPerLength} kg/m, expected below 10`;
    const area = impliedArea(section.axial, section.bendingInPlane, section.bendingAcross);
    const density = section.massPerLength / area;
    if (density < DENSITY.low || density > DENSITY.high)
      return `density of ${name} is about ${Math.round(density)} kg/m³, expected ${DENSITY.low}..${DENSITY.high}`;
    total += section.length;
  }
  if (total < 0.03 || total > 2) return `free length is ${(total * 1000).toFixed(1)} mm, expected 30..2000`;
  const crossing = member.crossingFromHub;
  if (crossing !== undefined && !(crossing > 0.002 && crossing < total - 0.01))
    return `crossing is ${(crossing * 1000).toFixed(1)} mm from the hub, expected 2..${(total * 1000 - 10).toFixed(1)}`;
  return undefined;
};

/**
 * Area of the solid ellipse with these stiffnesses: EI_x·EI_y / EA² = (a²/16)(b²/16) for diameters a, b, and A = π·a·b/4.
 * A flat or a tube differs by less than a factor of two.
 */
const impliedArea = (axial: number, bendingA: number, bendingB: number): number =>
  (Math.PI / 4) * 16 * (Math.sqrt(bendingA * bendingB) / axial);
