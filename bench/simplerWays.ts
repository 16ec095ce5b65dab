import { crossingSupport } from '../src/physics/crossingSupport.ts';
import { measureWheel } from '../src/physics/measureWheel.ts';
import type { Ends, Member, Section } from '../src/physics/member.ts';
import { tensionOf } from '../src/physics/tensionOf.ts';
import { hertz, newtonMetresPerRadian, newtonsPerMetre } from '../src/units.ts';
import type { Kind } from '../test/signals/catalogue.ts';
import { plain, spokesOf } from './memberScenes.ts';
import { Score } from './memberScore.ts';
import { drawRichWheel } from './richTrial.ts';

/** What simpler ways would say of the lowest tone heard, taken for the first of the right length. */
export const simplerWays = (kinds: readonly Kind[], wheels: number): string[][] => {
  const ways = [
    'ideal string, full length',
    'ideal string, free length',
    'first-order stiff string, clamped',
    'full model, ends halfway',
    'this model',
  ] as const;
  const scores = new Map(ways.map((way) => [way, new Score()]));
  for (let seed = 0; seed < wheels; seed++) {
    const wheel = drawRichWheel(seed, kinds);
    const spokes = spokesOf(wheel, { name: '', kinds, pluck: plain(4) });
    const { readings } = measureWheel(spokes);
    spokes.forEach((spoke, i) => {
      const truth = wheel.wheel.spokes[i]?.tensionN ?? Number.NaN;
      const f = spoke.plucks[0]?.tones[0]?.frequencyHz ?? Number.NaN;
      const { member } = spoke.prepared.described;
      const put = (way: (typeof ways)[number], tension: number): void =>
        scores.get(way)?.addBare(Math.log(tension / truth));
      const total = member.sections.reduce((sum, s) => sum + s.length, 0);
      const free = total - (member.crossingFromHub ?? 0);
      const { mass, bending } = ringing(member);
      put('ideal string, full length', 4 * mass * (total * f) ** 2);
      put('ideal string, free length', 4 * mass * (free * f) ** 2);
      put('first-order stiff string, clamped', stiffString(f, mass, bending, free));
      put('full model, ends halfway', halfway(member, f, truth));
      scores.get('this model')?.add(readings.get(i), truth);
    });
  }
  return ways.map((way) => (scores.get(way) as Score).row(way, way !== 'this model'));
};
/** Mean mass and bending of the part that rings. */
const ringing = (member: Member): { mass: number; bending: number } => {
  let at = 0;
  let length = 0;
  let mass = 0;
  let flexibility = 0;
  for (const s of member.sections) {
    const inside = Math.max(at + s.length - Math.max(at, member.crossingFromHub ?? 0), 0);
    at += s.length;
    length += inside;
    mass += inside * s.massPerLength;
    flexibility += inside / s.bendingInPlane;
  }
  return { mass: mass / length, bending: length / flexibility };
};
/** f1 = f0 (1 + 2/ξ), clamped ends, solved for tension. @source Fletcher, J. Acoust. Soc. Am. 36 (1964), 203 */
const stiffString = (f: number, mass: number, bending: number, length: number): number => {
  let tension = 4 * mass * (length * f) ** 2;
  for (let i = 0; i < 60; i++) {
    const xi = length * Math.sqrt(tension / bending);
    tension = 0.5 * tension + 0.5 * 4 * mass * ((length * f) / (1 + 2 / xi)) ** 2;
  }
  return tension;
};
/** Exact inversion with ends of clampedness ½ at an ordinary tension: what a good model does without partials. */
const halfway = (member: Member, f: number, fallback: number): number => {
  const longest = member.sections.reduce((a, b) => (b.length > a.length ? b : a), member.sections[0] as Section);
  const k = newtonMetresPerRadian(Math.sqrt(900 * longest.bendingInPlane));
  const ends: Ends = { hub: { inPlane: k, across: k }, rim: { inPlane: k, across: k } };
  const crossing =
    member.crossingFromHub === undefined
      ? ({ kind: 'none' } as const)
      : ({ kind: 'support', stiffness: newtonsPerMetre(crossingSupport(member)) } as const);
  const result = tensionOf(member, hertz(f), 1, ends, 'inPlane', crossing);
  return result.ok ? Math.max(result.tension, 1) : fallback * 0.1;
};
