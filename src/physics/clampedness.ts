import type { Member } from './member.ts';

/**
 * How nearly clamped an end of rotational stiffness k is: c = k/(k + √(T·EI)), 0 = pinned, 1 = clamped.
 * The effective length is shortened by c·√(EI/T) at that end.
 * @source first order of the exact boundary condition, see MODEL.md
 */
export const clampedness = (member: Member, lnK: number, tension: number): number => {
  const own = wireStiffness(member, tension);
  return 1 / (1 + own * Math.exp(-lnK));
};

/** ln k of a clampedness. */
export const lnStiffnessOf = (member: Member, value: number, tension: number): number =>
  Math.log((wireStiffness(member, tension) * value) / (1 - value));

const wireStiffness = (member: Member, tension: number): number => {
  let length = 0;
  let flexibility = 0;
  for (const s of member.sections) {
    length += s.length;
    flexibility += s.length / Math.sqrt(s.bendingInPlane * s.bendingAcross);
  }
  return Math.sqrt((tension * length) / flexibility);
};
