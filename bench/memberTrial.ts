/**
 * Simulated wheels for the member's accuracy: a described member, a true one that departs from it by the stated errors, and tones.
 * The tones come from the room's own exact modes (its errors are judged elsewhere, against finite elements).
 */
import type { How, Tone } from '../src/contract.ts';
import type { DescribedMember, Ends, Member, Section } from '../src/physics/member.ts';
import { modes } from '../src/physics/modes.ts';
import type { PluckTones } from '../src/physics/spokeTones.ts';
import {
  decibels,
  hertz,
  kilogramsPerMetre,
  metres,
  newtonMetresPerRadian,
  newtonMetresSquared,
  newtons,
  newtonsPerMetre,
  seconds,
} from '../src/units.ts';

/** Deterministic random numbers. @source Marsaglia, Xorshift RNGs, J. Stat. Softw. 8(14) (2003); splitmix seeding */
export class Draw {
  private state: number;
  constructor(seed: number) {
    this.state = (Math.imul(seed, 0x9e3779b9) ^ 0x85ebca6b) >>> 0 || 1;
    for (let i = 0; i < 8; i++) this.uniform();
  }
  uniform(): number {
    let x = this.state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.state = x >>> 0;
    return this.state / 4294967296;
  }
  between(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }
  logBetween(low: number, high: number): number {
    return low * (high / low) ** this.uniform();
  }
  normal(): number {
    return Math.sqrt(-2 * Math.log(this.uniform() + 1e-12)) * Math.cos(2 * Math.PI * this.uniform());
  }
  pick<T>(items: readonly T[]): T {
    return items[Math.min(Math.floor(this.uniform() * items.length), items.length - 1)] as T;
  }
}

const section = (length: number, mass: number, inPlane: number, across: number, axial: number): Section => ({
  length: metres(length),
  massPerLength: kilogramsPerMetre(mass),
  bendingInPlane: newtonMetresSquared(inPlane),
  bendingAcross: newtonMetresSquared(across),
  axial: newtons(axial),
});
export const round = (length: number, d: number, modulus: number, density: number): Section => {
  const area = (Math.PI * d * d) / 4;
  const bending = (modulus * Math.PI * d ** 4) / 64;
  return section(length, density * area, bending, bending, modulus * area);
};
const oval = (length: number, w: number, t: number, modulus: number, density: number): Section => {
  const area = (Math.PI * w * t) / 4;
  return section(
    length,
    density * area,
    (modulus * Math.PI * w ** 3 * t) / 64,
    (modulus * Math.PI * w * t ** 3) / 64,
    modulus * area,
  );
};
/** Tube of metal bonded over a rod: masses and stiffnesses add. */
const over = (core: Section, tube: Section): Section =>
  section(
    core.length,
    core.massPerLength + tube.massPerLength,
    core.bendingInPlane + tube.bendingInPlane,
    core.bendingAcross + tube.bendingAcross,
    core.axial + tube.axial,
  );
const tube = (length: number, outer: number, inner: number, modulus: number, density: number): Section => {
  const area = (Math.PI * (outer ** 2 - inner ** 2)) / 4;
  const bending = (modulus * Math.PI * (outer ** 4 - inner ** 4)) / 64;
  return section(length, density * area, bending, bending, modulus * area);
};

const STEEL = [190e9, 7900] as const;
const TITANIUM = [114e9, 4430] as const;
const COMPOSITE = [135e9, 1580] as const;
const BRASS = [100e9, 8500] as const;
const nipple = (): Section => round(0.012, 0.004, ...BRASS);

export type KindName =
  | 'round 2.0'
  | 'round 1.8'
  | 'butted 2.0/1.8/2.0'
  | 'butted 2.0/1.5/2.0'
  | 'blade 2.2 x 0.9'
  | 'titanium 2.0'
  | 'short 2.3'
  | 'composite round'
  | 'composite blade';
export const STEEL_KINDS: readonly KindName[] = [
  'round 2.0',
  'round 1.8',
  'butted 2.0/1.8/2.0',
  'butted 2.0/1.5/2.0',
  'blade 2.2 x 0.9',
  'titanium 2.0',
];
export const COMPOSITE_KINDS: readonly KindName[] = ['composite round', 'composite blade'];

/** Sections of generic spokes, hub first, the last visible 12 mm being the nipple (`common practice` dimensions). */
export const sectionsOf = (kind: KindName, length: number): Section[] => {
  const wire = length - 0.012;
  switch (kind) {
    case 'round 2.0':
      return [round(wire, 0.002, ...STEEL), nipple()];
    case 'round 1.8':
      return [round(wire, 0.0018, ...STEEL), nipple()];
    case 'butted 2.0/1.8/2.0':
      return [
        round(0.02, 0.002, ...STEEL),
        round(wire - 0.05, 0.0018, ...STEEL),
        round(0.03, 0.002, ...STEEL),
        nipple(),
      ];
    case 'butted 2.0/1.5/2.0':
      return [
        round(0.02, 0.002, ...STEEL),
        round(wire - 0.05, 0.0015, ...STEEL),
        round(0.03, 0.002, ...STEEL),
        nipple(),
      ];
    case 'blade 2.2 x 0.9':
      return [
        round(0.025, 0.002, ...STEEL),
        oval(wire - 0.06, 0.0022, 0.0009, ...STEEL),
        round(0.035, 0.002, ...STEEL),
        nipple(),
      ];
    case 'titanium 2.0':
      return [round(wire, 0.002, ...TITANIUM), nipple()];
    case 'short 2.3':
      return [round(wire, 0.0023, ...STEEL), nipple()];
    case 'composite round': {
      const rod = (l: number) => round(l, 0.0028, ...COMPOSITE);
      return [
        over(rod(0.025), tube(0.025, 0.0042, 0.0028, ...TITANIUM)),
        rod(wire - 0.055),
        over(rod(0.03), tube(0.03, 0.0042, 0.0028, ...TITANIUM)),
        nipple(),
      ];
    }
    case 'composite blade': {
      const rod = (l: number) => oval(l, 0.0042, 0.0017, ...COMPOSITE);
      return [
        over(rod(0.02), tube(0.02, 0.005, 0.0036, 70e9, 2800)),
        rod(wire - 0.045),
        over(rod(0.025), tube(0.025, 0.005, 0.0036, 70e9, 2800)),
        nipple(),
      ];
    }
  }
};

export interface TrialWheel {
  readonly kind: KindName;
  readonly described: DescribedMember;
  readonly truth: Member;
  readonly support: number;
  /** ln k of both ends, in the plane, before scatter. */
  readonly lnHub: number;
  readonly lnRim: number;
  readonly tensions: readonly number[];
  readonly draw: Draw;
}

/** Clampedness range of the simulated ends at 1000 N: nearly pinned to nearly clamped. */
const ENDS = { low: 0.07, high: 0.93 };

export const drawWheel = (seed: number, kind: KindName, crossed: boolean, spokes: number): TrialWheel => {
  const draw = new Draw(seed);
  const length = kind === 'short 2.3' ? draw.between(0.15, 0.2) : draw.between(0.25, 0.3);
  const sections = sectionsOf(kind, length);
  const crossing = crossed ? length * draw.between(0.2, 0.3) : undefined;
  const described: DescribedMember = {
    member: { sections, ...(crossing === undefined ? {} : { crossingFromHub: metres(crossing) }) },
    uncertainty: { massRelative: 0.01, length: metres(0.0005), crossing: metres(0.0015), stiffnessRelative: 0.03 },
  };
  const mass = 1 + 0.01 * draw.normal();
  const stiffness = 1 + 0.03 * draw.normal();
  const lengthError = 0.0005 * draw.normal();
  const longest = sections.reduce((best, s, i) => (s.length > (sections[best]?.length ?? 0) ? i : best), 0);
  const truth: Member = {
    sections: sections.map((s, i) =>
      section(
        s.length + (i === longest ? lengthError : 0),
        s.massPerLength * mass,
        s.bendingInPlane * stiffness,
        s.bendingAcross * stiffness,
        s.axial,
      ),
    ),
    ...(crossing === undefined ? {} : { crossingFromHub: metres(crossing + 0.0015 * draw.normal()) }),
  };
  const wire = sections[longest] as Section;
  const own = Math.sqrt(1000 * wire.bendingInPlane);
  const lnK = () => Math.log(own * draw.logBetween(ENDS.low / (1 - ENDS.low), ENDS.high / (1 - ENDS.high)));
  const lnHub = lnK();
  const lnRim = lnK();
  const level = kind.startsWith('composite') ? draw.between(900, 1300) : draw.between(500, 1200);
  return {
    kind,
    described,
    truth,
    support: draw.logBetween(1.5e6, 6e6),
    lnHub,
    lnRim,
    tensions: Array.from({ length: spokes }, () => level * (1 + 0.06 * draw.normal())),
    draw,
  };
};

/** The exact tones of one spoke of the wheel, in the plane, segment modes only (energy beyond the crossing), Hz. */
export const trueTones = (
  wheel: TrialWheel,
  tension: number,
  scatter: readonly [number, number],
  count: number,
): number[] => {
  const end = (k: number) => ({ inPlane: newtonMetresPerRadian(k), across: newtonMetresPerRadian(k) });
  const ends: Ends = { hub: end(Math.exp(wheel.lnHub + scatter[0])), rim: end(Math.exp(wheel.lnRim + scatter[1])) };
  const { truth } = wheel;
  if (truth.crossingFromHub === undefined)
    return modes(truth, newtons(tension), ends, 'inPlane', { kind: 'none' }, count);
  const crossing = { kind: 'support' as const, stiffness: newtonsPerMetre(wheel.support) };
  const all = modes(truth, newtons(tension), ends, 'inPlane', crossing, count * 2);
  // A segment's mode moves when the mass beyond the crossing does: share = −2·∂ln f/∂ln µ.
  const heavier = modes(heavierBeyond(truth), newtons(tension), ends, 'inPlane', crossing, count * 2);
  return all.filter((f, i) => (-2 * Math.log((heavier[i] as number) / f)) / Math.log(1.001) > 0.5).slice(0, count);
};
const heavierBeyond = (member: Member): Member => {
  const at = member.crossingFromHub ?? 0;
  const sections: Section[] = [];
  let start = 0;
  for (const s of member.sections) {
    const end = start + s.length;
    const put = (l: number, beyond: boolean) =>
      l > 0 &&
      sections.push({
        ...s,
        length: metres(l),
        massPerLength: kilogramsPerMetre(s.massPerLength * (beyond ? 1.001 : 1)),
      });
    put(Math.min(end, at) - start, false);
    put(end - Math.max(start, at), true);
    start = end;
  }
  return { ...member, sections };
};

export const toneOf = (frequency: number, u: number, level: number): Tone => ({
  frequencyHz: hertz(frequency),
  uHz: hertz(u),
  levelDb: decibels(level),
  decayS: seconds(0.4),
  snrDb: decibels(40),
});
export const pluckOf = (tones: readonly Tone[], how: How): PluckTones => {
  const sorted = [...tones].sort((a, b) => a.frequencyHz - b.frequencyHz);
  return {
    tones: sorted,
    covarianceHz2: sorted.map((t, i) => sorted.map((_, j) => (i === j ? t.uHz ** 2 : 0))),
    hypotheses: [],
    flags: [],
    how,
  };
};
/** Levels of a pluck: the fundamental weak in 30 % and missing in 10 %, the others falling off. */
export const levelsOf = (draw: Draw, count: number): number[] =>
  Array.from({ length: count }, (_, i) => {
    if (i === 0) {
      const u = draw.uniform();
      return u < 0.1 ? Number.NEGATIVE_INFINITY : u < 0.4 ? -20 - draw.between(5, 18) : -20 - draw.between(0, 3);
    }
    return -20 - draw.between(0, 4 + 5 * i);
  });
