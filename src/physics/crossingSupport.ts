import type { Member } from './member.ts';

/** sin² of the angle at which two spokes of a pair cross; 35° for a three-cross wheel (law of cosines). */
const SINE_SQUARED = 0.33;

/**
 * Stiffness along the rim of the support that a touching spoke gives: the partner, of the same kind, resists along its own length
 * with both arms, EA/x + EA/(L − x), turned by the angle of crossing.
 * @returns N/m
 * @source statics of two springs; @validity friction holds the contact (`common practice` to pinch it); factor of two either way
 */
export const crossingSupport = (member: Member): number => {
  const total = member.sections.reduce((sum, s) => sum + s.length, 0);
  const at = member.crossingFromHub ?? total / 2;
  const arm = (from: number, to: number): number => {
    let compliance = 0;
    let start = 0;
    for (const section of member.sections) {
      const overlap = Math.min(to, start + section.length) - Math.max(from, start);
      if (overlap > 0) compliance += overlap / section.axial;
      start += section.length;
    }
    return 1 / compliance;
  };
  return SINE_SQUARED * (arm(0, at) + arm(at, total));
};
