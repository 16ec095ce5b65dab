import type { DescribedMember, Ends, Member, Section } from '../../src/physics/member.ts';
import { kilogramsPerMetre, metres, newtonMetresPerRadian, newtonMetresSquared, newtons } from '../../src/units.ts';

/** Steel of the frozen values: E = 193 GPa, ρ = 7900 kg/m³. */
export const section = (length: number, mass: number, inPlane: number, across: number, axial: number): Section => ({
  length: metres(length),
  massPerLength: kilogramsPerMetre(mass),
  bendingInPlane: newtonMetresSquared(inPlane),
  bendingAcross: newtonMetresSquared(across),
  axial: newtons(axial),
});
export const round = (length: number, diameter: number, modulus = 193e9, density = 7900): Section => {
  const area = (Math.PI * diameter ** 2) / 4;
  const bending = (modulus * Math.PI * diameter ** 4) / 64;
  return section(length, density * area, bending, bending, modulus * area);
};
/** Rectangle, width in the wheel's plane. */
export const flat = (length: number, width: number, thickness: number, modulus = 193e9, density = 7900): Section => {
  const area = width * thickness;
  return section(
    length,
    density * area,
    (modulus * thickness * width ** 3) / 12,
    (modulus * width * thickness ** 3) / 12,
    modulus * area,
  );
};
export const ends = (hub: number, rim: number): Ends => ({
  hub: { inPlane: newtonMetresPerRadian(hub), across: newtonMetresPerRadian(hub) },
  rim: { inPlane: newtonMetresPerRadian(rim), across: newtonMetresPerRadian(rim) },
});
export const CLAMPED = ends(Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY);
export const PINNED = ends(0, 0);
export const HALF = ends(Number.POSITIVE_INFINITY, 0);
export const SPRUNG = ends(10, 2);

/** Straight round wire 2.0 mm, 270 mm. */
export const A: Member = { sections: [round(0.27, 0.002)] };
/** Butted 2.0/1.5/2.0 mm, 20 + 220 + 30 mm. */
export const B: Member = { sections: [round(0.02, 0.002), round(0.22, 0.0015), round(0.03, 0.002)] };
/** Blade 2.2 × 0.9 mm rectangle, 200 mm between 30 and 40 mm of 2.0 mm round. */
export const C: Member = { sections: [round(0.03, 0.002), flat(0.2, 0.0022, 0.0009), round(0.04, 0.002)] };

export const described = (member: Member): DescribedMember => ({
  member,
  uncertainty: { massRelative: 0.01, length: metres(0.0005), crossing: metres(0.0015), stiffnessRelative: 0.03 },
});
export const crossed = (member: Member, at: number): Member => ({ ...member, crossingFromHub: metres(at) });
