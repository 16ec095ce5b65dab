import type { Plane } from '../../contract.ts';
import type { Ends, Member, Section } from '../../physics/member.ts';
import { modes } from '../../physics/modes.ts';
import { kilogramsPerMetre, metres, newtonMetresPerRadian, newtons, newtonsPerMetre } from '../../units.ts';

/** One tone that a demo spoke has. */
export interface DemoVoice {
  readonly frequencyHz: number;
  /** 1 = as loud as a fundamental. */
  readonly amplitude: number;
  readonly decayS: number;
}

const MODES = 6;
/** Lowest tone's decay; higher ones fall faster. A steel spoke by ear, `common practice`. */
const DECAY_S = 0.38;
/** The finger moves along the rim; some of it goes across. */
const ACROSS = 0.18;
const MASS_STEP = 1e-3;

/**
 * The tones of a member plucked in its outer part with the crossing held, from the exact model. How much of each mode lives in
 * that part follows from Rayleigh: if its mass grows by ε, the mode's frequency falls by ε/2 times the share of kinetic energy there.
 *
 * @param hubStiffness, rimStiffness N·m/rad of the two supports, in both planes
 * @param place of the pluck on the outer part, 0..1 from the crossing
 */
export function demoVoices(
  member: Member,
  tensionN: number,
  hubStiffness: number,
  rimStiffness: number,
  place: number,
): readonly DemoVoice[] {
  const light = splitAtCrossing(member, 1);
  const heavy = splitAtCrossing(member, 1 + MASS_STEP);
  const held = { kind: member.crossingFromHub ? 'support' : 'none', stiffness: newtonsPerMetre(Infinity) } as const;
  const voices: DemoVoice[] = [];
  for (const plane of ['inPlane', 'across'] as const satisfies readonly Plane[]) {
    const ends = endsOf(hubStiffness, rimStiffness);
    const tension = newtons(tensionN);
    const frequencies = modes(light, tension, ends, plane, held, MODES);
    const lowered = modes(heavy, tension, ends, plane, held, MODES);
    let order = 0;
    frequencies.forEach((frequencyHz, index) => {
      const share = Math.min(
        1,
        Math.max(0, (-2 * Math.log((lowered[index] ?? frequencyHz) / frequencyHz)) / MASS_STEP),
      );
      if (share > 0.5) order++;
      const amplitude =
        (plane === 'inPlane' ? 1 : ACROSS) *
        share *
        (Math.abs(Math.sin(Math.max(1, order) * Math.PI * place)) / Math.max(1, order));
      voices.push({ frequencyHz, amplitude, decayS: DECAY_S / Math.sqrt(Math.max(1, order)) });
    });
  }
  return voices.filter((voice) => voice.amplitude > 1e-4);
}

/** Nearly equal in both planes; across, a support gives a little more. */
const endsOf = (hub: number, rim: number): Ends => ({
  hub: { inPlane: newtonMetresPerRadian(hub), across: newtonMetresPerRadian(hub * 0.8) },
  rim: { inPlane: newtonMetresPerRadian(rim), across: newtonMetresPerRadian(rim * 0.8) },
});

/** The same member with its sections cut at the crossing and the outer ones' mass multiplied. */
function splitAtCrossing(member: Member, outerMass: number): Member {
  const crossing = member.crossingFromHub ?? metres(0);
  const sections: Section[] = [];
  let start = 0;
  for (const section of member.sections) {
    const inner = Math.min(section.length, Math.max(0, crossing - start));
    const outer = section.length - inner;
    if (inner > 0) sections.push({ ...section, length: metres(inner) });
    if (outer > 0)
      sections.push({
        ...section,
        length: metres(outer),
        massPerLength: kilogramsPerMetre(section.massPerLength * outerMass),
      });
    start += section.length;
  }
  return { ...member, sections };
}
