/**
 * Whole wheels from the independent finite-element simulation (test/signals) as lists of tones: both planes, the touching pair, a rim with a
 * mode of its own, friction at the crossing; the ear is replaced by noise on the frequencies.
 */
import type { How, Tone } from '../src/contract.ts';
import type { DescribedMember, Section } from '../src/physics/member.ts';
import { decibels, hertz, kilogramsPerMetre, metres, newtonMetresSquared, newtons, seconds } from '../src/units.ts';
import { type Kind, STEEL_KINDS } from '../test/signals/catalogue.ts';
import { DEFAULT_ERRORS, type DrawnWheel, drawWheel } from '../test/signals/drawWheel.ts';
import type { Piece } from '../test/signals/finiteElements.ts';
import { type Random, seededRandom } from '../test/signals/random.ts';
import { type RichHow, richVoices } from '../test/signals/richVoices.ts';
import { spokeModes } from '../test/signals/spokeModes.ts';
import { drawCharacter, type WheelCharacter } from '../test/signals/wheelCharacter.ts';

const sectionOf = (p: Piece): Section => ({
  length: metres(p.lengthM),
  massPerLength: kilogramsPerMetre(p.massKgPerM),
  bendingInPlane: newtonMetresSquared(p.bendingInPlane),
  bendingAcross: newtonMetresSquared(p.bendingAcross),
  axial: newtons(p.axialN),
  ...(p.shearN === undefined ? {} : { shear: newtons(p.shearN) }),
});

export const describedOf = (wheel: DrawnWheel, index: number): DescribedMember => {
  const d = wheel.described[index];
  if (d === undefined) throw new RangeError(`spoke ${index} is not in the wheel`);
  return {
    member: {
      sections: d.pieces.map(sectionOf),
      ...(d.crossingFromHubM === undefined ? {} : { crossingFromHub: metres(d.crossingFromHubM) }),
    },
    uncertainty: {
      massRelative: DEFAULT_ERRORS.massRelative,
      length: metres(DEFAULT_ERRORS.lengthM),
      crossing: metres(DEFAULT_ERRORS.crossingM),
      stiffnessRelative: DEFAULT_ERRORS.stiffnessRelative,
    },
  };
};

export interface RichWheel {
  readonly wheel: DrawnWheel;
  readonly character: WheelCharacter;
  readonly random: Random;
}
export const drawRichWheel = (seed: number, kinds: readonly Kind[] = STEEL_KINDS, crossed?: boolean): RichWheel => {
  const wheel = drawWheel(seed, { kinds, ...(crossed === undefined ? {} : { crossed }) });
  const random = seededRandom(`member|${seed}`);
  return { wheel, character: drawCharacter(random.fork('character'), wheel.kind.startsWith('composite')), random };
};

const tone = (frequency: number, u: number, level: number, decay: number): Tone => ({
  frequencyHz: hertz(frequency),
  uHz: hertz(u),
  levelDb: decibels(level),
  decayS: seconds(decay),
  snrDb: decibels(Math.max(60 + level, 5)),
});

/** The tones of one pluck as a good ear would list them: relative noise on each, nothing weaker than −40 dB. */
export const richPluck = (rich: RichWheel, index: number, how: RichHow, noise: number, salt = 0): Tone[] => {
  const random = rich.random.fork(`pluck${index}|${salt}`);
  const own = voicesOf(rich, index, how, random, 0);
  const count = rich.wheel.spokes.length;
  // The spoke before, and a neighbour of the side, answer with their own combs.
  const before = voicesOf(rich, (index + count - 1) % count, how, random.fork('b'), -random.uniform(15, 30));
  const neighbour = voicesOf(rich, (index + 2) % count, how, random.fork('n'), -random.uniform(20, 40));
  const all = [...own, ...before, ...neighbour].filter((t) => t.level > -42 && t.hz < 6000);
  all.sort((a, b) => a.hz - b.hz);
  // Tones closer than 0.25 % are one to the ear, the stronger.
  const resolved: typeof all = [];
  for (const t of all) {
    const last = resolved[resolved.length - 1];
    if (last !== undefined && t.hz / last.hz < 1.0025) {
      if (t.level > last.level) resolved[resolved.length - 1] = t;
    } else resolved.push(t);
  }
  return resolved.map((t) => tone(t.hz * (1 + random.normal(0, noise)), t.hz * noise, t.level - 20, t.decay));
};

const voicesOf = (
  rich: RichWheel,
  index: number,
  how: RichHow,
  random: Random,
  shift: number,
): { hz: number; level: number; decay: number }[] => {
  const spoke = rich.wheel.spokes[index];
  if (spoke === undefined) throw new RangeError(`spoke ${index} is not in the wheel`);
  const partner = spoke.partner === undefined ? undefined : rich.wheel.spokes[spoke.partner - 1];
  const { partials } = richVoices(random, spoke, partner, how, rich.character, 8000);
  return partials.map((p) => ({ hz: p.frequencyHz, level: 20 * Math.log10(p.amplitude) + shift, decay: p.decayS }));
};

/** Plain tones: modes 1..count in the plane, nothing else; finite elements. */
export const plainPluck = (rich: RichWheel, index: number, count: number, noise: number): Tone[] => {
  const spoke = rich.wheel.spokes[index];
  if (spoke === undefined) throw new RangeError(`spoke ${index} is not in the wheel`);
  const random = rich.random.fork(`plain${index}`);
  return spokeModes(spoke, 'inPlane', count * 2 + 1)
    .modes.filter((m) => m.family !== 'hub')
    .slice(0, count)
    .map((m, i) => tone(m.frequencyHz * (1 + random.normal(0, noise)), m.frequencyHz * noise, -20 - 3 * i, 0.4));
};

export const howOf = (how: RichHow): How => how;
