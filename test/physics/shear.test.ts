/**
 * Members that give way in shear: closed forms, limits, laws, and a finite-element model of another formulation.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Chain } from '../../src/physics/chain.ts';
import { chainOf } from '../../src/physics/chainOf.ts';
import { checkMember } from '../../src/physics/checkMember.ts';
import { elementStiffness } from '../../src/physics/elementStiffness.ts';
import type { Ends, Member, Section } from '../../src/physics/member.ts';
import { type CrossingState, modes } from '../../src/physics/modes.ts';
import { tensionOf } from '../../src/physics/tensionOf.ts';
import { hertz, newtons, newtonsPerMetre } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { A, B, CLAMPED, crossed, ends, flat, HALF, PINNED, round, SPRUNG } from './members.ts';
import { shearedModes } from './shearedElements.ts';

const NONE: CrossingState = { kind: 'none' };
const percent = (value: number): number => value / 100;
const sheared = (section: Section, perAxial: number): Section => ({
  ...section,
  shear: newtons(section.axial * perAxial),
});
/** Carbon rod 3.5 mm, 250 mm, E/κG = 30. */
const ROD = sheared(round(0.25, 0.0035, 140e9, 1580), 1 / 30);
const run = (member: Member, tension: number, e: Ends, count: number, crossing: CrossingState = NONE): number[] =>
  modes(member, newtons(tension), e, 'inPlane', crossing, count);
const expectClose = (got: readonly number[], wanted: readonly number[], relative: number): void =>
  got.forEach((f, i) => {
    expect(Math.abs(f / (wanted[i] as number) - 1), `mode ${i + 1}`).toBeLessThan(relative);
  });

describe('shear: closed forms', () => {
  it('has the pinned member’s ω²µ = k²·(T + EI·k²/(1 + EI·k²/S)), k = nπ/L', () => {
    const { bendingInPlane: EI, massPerLength: mass, length, shear = 0 } = ROD;
    for (const tension of [0, 8, 400, 1500, 6000]) {
      const wanted = [1, 2, 3, 4, 5, 6].map((n) => {
        const k2 = ((n * Math.PI) / length) ** 2;
        return Math.sqrt((k2 * (tension + (EI * k2) / (1 + (EI * k2) / shear))) / mass) / (2 * Math.PI);
      });
      expectClose(run({ sections: [ROD] }, tension, PINNED, 6), wanted, 1e-10);
    }
  });
  it('bends between clamps under a middle load as 192·EI/L³ and 4·S/L in series (Gere & Timoshenko, from memory)', () => {
    const half: Member = { sections: [ROD] };
    const { bendingInPlane: EI, shear = 0 } = ROD;
    const L = 2 * ROD.length;
    // Two halves meet where the slope stays zero; ω so low that no mass counts.
    const chain = new Chain(chainOf(half, CLAMPED, 'inPlane'));
    chain.subdivide(1e-3, 0);
    const { vv } = chain.condense(1e-3, 0);
    expect(2 * vv * (L ** 3 / (192 * EI) + L / (4 * shear))).toBeCloseTo(1, 9);
  });
  it('goes over into Euler–Bernoulli as the compliance vanishes, within 1e-9', () => {
    for (const member of [A, B, crossed(A, 0.075)])
      for (const e of [CLAMPED, PINNED, HALF, SPRUNG]) {
        const stiff = { ...member, sections: member.sections.map((s) => sheared(s, 1e9)) };
        const held: CrossingState =
          member.crossingFromHub === undefined ? NONE : { kind: 'support', stiffness: newtonsPerMetre(2e6) };
        expectClose(run(stiff, 700, e, 5, held), run(member, 700, e, 5, held), 1e-9);
      }
  });
});

describe('shear: one piece', () => {
  const stiffnessOf = (length: number, tension: number, omega: number, perAxial: number): Float64Array => {
    const out = new Float64Array(6);
    const compliance = 1 / (ROD.axial * perAxial);
    elementStiffness(out, length, ROD.massPerLength, ROD.bendingInPlane, tension, omega, compliance);
    return out;
  };
  it('is continuous where the short element takes over', () => {
    for (const [tension, omega] of [
      [10, 2000],
      [900, 9000],
      [6000, 30000],
    ] as const)
      for (const perAxial of [1 / 300, 1 / 30, 1 / 3]) {
        const length = 0.02 / Math.max(...wavesOf(tension, omega, perAxial));
        const shorter = stiffnessOf(length * (1 - 1e-12), tension, omega, perAxial);
        const longer = stiffnessOf(length * (1 + 1e-12), tension, omega, perAxial);
        shorter.forEach((value, i) => {
          const entry = `K${i} at ${tension} N`;
          expect(Math.abs((longer[i] as number) / value - 1), entry).toBeLessThan(1e-8);
          expect(longer[i], entry).not.toBe(value);
        });
      }
  });
  const wavesOf = (tension: number, omega: number, perAxial: number): [number, number] => {
    const EI = ROD.bendingInPlane;
    const S = ROD.axial * perAxial;
    const inertia = ROD.massPerLength * omega ** 2;
    const a = EI * (1 + tension / S);
    const b = tension - (EI * inertia) / S;
    const r = Math.sqrt(b * b + 4 * a * inertia);
    return [Math.sqrt((b + r) / (2 * a)), Math.sqrt((r - b) / (2 * a))];
  };
});

describe('shear: laws', () => {
  const drawn = fc.record({
    lengths: fc.array(fc.double({ min: 0.04, max: 0.12, noNaN: true }), { minLength: 1, maxLength: 4 }),
    diameters: fc.array(fc.double({ min: 0.0022, max: 0.0045, noNaN: true }), { minLength: 4, maxLength: 4 }),
    soft: fc.double({ min: 4, max: 60, noNaN: true }),
    tension: fc.double({ min: 20, max: 3000, noNaN: true }),
    hub: fc.double({ min: 0.1, max: 300, noNaN: true }),
    rim: fc.double({ min: 0.1, max: 300, noNaN: true }),
  });
  it('lowers every tone, the more the softer it is', () =>
    fc.assert(
      fc.property(drawn, ({ lengths, diameters, soft, tension, hub, rim }) => {
        const sections = lengths.map((l, i) => round(l, diameters[i] as number, 140e9, 1580));
        const of = (perAxial: number): Member => ({ sections: sections.map((s) => sheared(s, perAxial)) });
        const none = run({ sections }, tension, ends(hub, rim), 4);
        const firm = run(of(1 / soft), tension, ends(hub, rim), 4);
        const softer = run(of(1 / soft / 1.3), tension, ends(hub, rim), 4);
        firm.forEach((f, i) => {
          expect(f).toBeLessThan(none[i] as number);
          expect(softer[i]).toBeLessThan(f);
        });
      }),
      { numRuns: 60, seed: 5 },
    ));
  it('does not care where a section is cut nor which way the member is turned, and gives its tension back', () =>
    fc.assert(
      fc.property(drawn, ({ lengths, diameters, soft, tension, hub, rim }) => {
        const sections = lengths.map((l, i) => sheared(round(l, diameters[i] as number, 140e9, 1580), 1 / soft));
        const whole = run({ sections }, tension, ends(hub, rim), 4);
        const cut = sections.flatMap((s) => [
          { ...s, length: s.length * 0.02 },
          { ...s, length: s.length * 0.98 },
        ]) as Section[];
        expectClose(run({ sections: cut }, tension, ends(hub, rim), 4), whole, 1e-8);
        expectClose(run({ sections: sections.toReversed() }, tension, ends(rim, hub), 4), whole, 1e-9);
        const back = tensionOf({ sections }, hertz(whole[1] as number), 2, ends(hub, rim), 'inPlane', { kind: 'none' });
        expect(back.ok && Math.abs(back.tension / tension - 1)).toBeLessThan(1e-6);
      }),
      { numRuns: 40, seed: 6 },
    ));
  it('refuses a stiffness that is none, by its section', () => {
    const withShear = (shear: number): Member => ({ sections: [{ ...ROD, shear: newtons(shear) }] });
    expect(checkMember({ sections: [ROD] })).toBeUndefined();
    expect(checkMember(withShear(0))).toBe('shear stiffness of section 1 is 0 N, expected above 0');
    expect(checkMember(withShear(Number.NaN))).toBe('shear stiffness of section 1 is NaN N, expected above 0');
    expect(checkMember(withShear(ROD.axial))).toMatch(/shear stiffness of section 1 is \d+ N, expected \d+\.\.\d+/);
    expect(checkMember(withShear(1))).toMatch(/shear stiffness of section 1 is 1 N/);
  });
});

/** The elements' own error grows as the fourth power of their length: worst 0.053 % at 8 mm, so that 5 mm leave a sixth of this. */
const TOLERANCE = percent(0.05);
const MEMBERS = 120;

describe('shear against finite elements', () => {
  const drawMember = (seed: number) => {
    const random = seededRandom(`sheared elements|${seed}`);
    const pieces = random.integer(1, 4);
    const total = random.uniform(0.14, 0.3);
    const sections = Array.from({ length: pieces }, (): Section => {
      const length = (total / pieces) * random.uniform(0.8, 1.2);
      const modulus = random.uniform(40e9, 180e9);
      const density = random.uniform(1300, 3000);
      const piece = random.chance(0.3)
        ? flat(length, random.uniform(0.0025, 0.005), random.uniform(0.0012, 0.0022), modulus, density)
        : round(length, random.uniform(0.002, 0.0045), modulus, density);
      return sheared(piece, 1 / random.logUniform(4, 60));
    });
    const length = sections.reduce((sum, s) => sum + s.length, 0);
    return {
      member: crossed({ sections }, length * random.uniform(0.15, 0.45)),
      tension: random.logUniform(20, 3000),
      hubEnd: random.logUniform(0.1, 500),
      rimEnd: random.logUniform(0.1, 500),
      support: random.logUniform(1e5, 1e8),
    };
  };
  it(`agrees within 0.05 % on ${MEMBERS} stepped members with held crossings, modes 1 to 4, and counts them all`, {
    timeout: 240_000,
  }, () => {
    let worst = 0;
    for (let seed = 0; seed < MEMBERS; seed++) {
      const { member, tension, hubEnd, rimEnd, support } = drawMember(seed);
      const crossing = { kind: 'support', stiffness: newtonsPerMetre(support) } as const;
      const judged = shearedModes(member, tension, { hubEnd, rimEnd, support }, 5, 0.005);
      run(member, tension, ends(hubEnd, rimEnd), 4, crossing).forEach((f, i) => {
        worst = Math.max(worst, Math.abs(f / (judged[i] as number) - 1));
      });
      const chain = new Chain(chainOf(member, ends(hubEnd, rimEnd), 'inPlane', newtonsPerMetre(support)));
      chain.subdivide(2 * Math.PI * (judged[4] as number), tension);
      for (let m = 1; m <= 4; m++) {
        chain.evaluate(2 * Math.PI * Math.sqrt((judged[m - 1] as number) * (judged[m] as number)), tension);
        expect(chain.count).toBe(m);
      }
    }
    expect(worst).toBeLessThan(TOLERANCE);
    expect(worst).toBeGreaterThan(0);
  });
});
