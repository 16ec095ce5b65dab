import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkMember } from '../../src/physics/checkMember.ts';
import { expectedTones } from '../../src/physics/expectedTones.ts';
import { LINE, LINE_SIZE, lineAt, lnFrequencyAt, lnTensionAt } from '../../src/physics/lineAt.ts';
import type { Member, Section } from '../../src/physics/member.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { tensionOf } from '../../src/physics/tensionOf.ts';
import { hertz, newtons, newtonsPerMetre } from '../../src/units.ts';
import { seededRandom } from '../signals/random.ts';
import { A, B, CLAMPED, crossed, described, ends, PINNED, round, SPRUNG, section } from './members.ts';

const RADIAL = prepareMember(described(B));
const CROSSED = crossed(A, 0.075);
const HELD = prepareMember(described(CROSSED));

describe('tables of a prepared member', () => {
  it('hold the exact tones: modes 1 and 2 within 0.005 %, all within the model error of 0.2 %', () => {
    const random = seededRandom('table');
    for (const prepared of [RADIAL, HELD]) {
      const table = prepared.inPlane;
      const { low, high } = prepared.endPrior.hub;
      const { member } = prepared.described;
      for (let i = 0; i < 150; i++) {
        const h = random.integer(0, table.hub.lnK.length - 1);
        const r = random.integer(0, table.rim.lnK.length - 1);
        const tension = random.logUniform(100, 3000);
        const first = Math.exp(table.hub.lnK[h] as number);
        const held = table.firstAxis === 'support';
        const e = ends(held ? Math.sqrt(low * high) : first, Math.exp(table.rim.lnK[r] as number));
        const crossing = held
          ? ({ kind: 'support', stiffness: newtonsPerMetre(first) } as const)
          : ({ kind: 'none' } as const);
        const exact = modes(member, newtons(tension), e, 'inPlane', crossing, 5);
        exact.forEach((f, m) => {
          const tabulated = lnFrequencyAt(table, h * table.rim.lnK.length + r, m, Math.log(tension));
          expect(Math.abs(tabulated - Math.log(f))).toBeLessThan(m < 2 ? 5e-5 : 2e-3);
        });
      }
    }
  });
  it('invert: the tension at which a mode has a tone gives that tone', () => {
    const table = RADIAL.inPlane;
    for (const lnT of [3.5, 5, 6.5, 7.5])
      for (const m of [0, 1, 3]) {
        const back = lnTensionAt(table, 40, m, lnFrequencyAt(table, 40, m, lnT));
        expect(back).toBeCloseTo(lnT, 4);
      }
  });
  it('carry sensitivities that agree with exact differences', () => {
    const table = RADIAL.inPlane;
    const node = 4 * table.rim.lnK.length + 4;
    const out = new Float64Array(LINE_SIZE);
    const lnT = Math.log(900);
    lineAt(table, node, 0, lnT, out);
    const e = ends(Math.exp(table.hub.lnK[4] as number), Math.exp(table.rim.lnK[4] as number));
    const first = (member: Member): number =>
      Math.log(modes(member, newtons(900), e, 'inPlane', { kind: 'none' }, 1)[0] as number);
    const longer: Member = { sections: B.sections.map((s, i) => (i === 1 ? round(s.length + 1e-4, 0.0015) : s)) };
    const linearInT = 0.03;
    expect(Math.abs((first(longer) - first(B)) / 1e-4 / (out[2] as number) - 1)).toBeLessThan(linearInT);
    const stiffer: Member = {
      sections: B.sections.map((s) =>
        section(s.length, s.massPerLength, s.bendingInPlane * 1.001, s.bendingAcross, s.axial),
      ),
    };
    expect(Math.abs((first(stiffer) - first(B)) / 0.001 / (out[4] as number) - 1)).toBeLessThan(linearInT);
    const border = 1e-4;
    const thickerNearRim: Member = {
      sections: B.sections.map((s, i) =>
        round(s.length + (i === 1 ? -border : i === 2 ? border : 0), i === 1 ? 0.0015 : 0.002),
      ),
    };
    expect(Math.abs((first(B) - first(thickerNearRim)) / border / (out[9] as number) - 1)).toBeLessThan(linearInT);
    const step = 0.01;
    const slope = (lnFrequencyAt(table, node, 0, lnT + step) - lnFrequencyAt(table, node, 0, lnT - step)) / (2 * step);
    expect(slope / (out[1] as number)).toBeCloseTo(1, 4);
  });
  it('of a weighed member move its borders with the mass kept, and its bending with its mass', () => {
    const weighed = { ...B, weighed: { sections: 2, bends: true } };
    const table = prepareMember(described(weighed)).inPlane;
    const node = 4 * table.rim.lnK.length + 4;
    const e = ends(Math.exp(table.hub.lnK[4] as number), Math.exp(table.rim.lnK[4] as number));
    const out = new Float64Array(LINE_SIZE);
    lineAt(table, node, 0, Math.log(900), out);
    const [hub, middle, rim] = B.sections as [Section, Section, Section];
    /** ln of the first tone with the first border this much nearer the rim, and the middle piece's mass by a factor. */
    const first = (shift: number, factor: number): number => {
      const sections = [
        section(hub.length + shift, hub.massPerLength, hub.bendingInPlane, hub.bendingAcross, hub.axial),
        section(
          middle.length - shift,
          middle.massPerLength * factor,
          middle.bendingInPlane * factor ** 2,
          middle.bendingAcross * factor ** 2,
          middle.axial,
        ),
        rim,
      ];
      return Math.log(modes({ sections }, newtons(900), e, 'inPlane', { kind: 'none' }, 1)[0] as number);
    };
    const step = 1e-4;
    const kept = (shift: number): number =>
      1 - (shift * (hub.massPerLength - middle.massPerLength)) / (middle.massPerLength * middle.length);
    const exact = (first(step, kept(step)) - first(-step, kept(-step))) / (2 * step);
    const linearInT = 0.03;
    expect(Math.abs(exact / (out[LINE.hubPiece] as number) - 1)).toBeLessThan(linearInT);
    // The rim's piece was not on the scale: its border keeps no mass.
    const plain = new Float64Array(LINE_SIZE);
    lineAt(RADIAL.inPlane, node, 0, Math.log(900), plain);
    expect(out[LINE.rimPiece]).toBe(plain[LINE.rimPiece]);
    expect(plain[LINE.mass]).toBe(-0.5);
    expect(out[LINE.mass]).toBeCloseTo(-0.5 + 2 * (out[LINE.stiffness] as number), 12);
  });
});

describe('exact inversion', () => {
  it('tension → tone → tension within 1e-6 for random members, ends, modes and crossings', () => {
    const random = seededRandom('inversion');
    for (let i = 0; i < 400; i++) {
      const sections = Array.from({ length: random.integer(1, 4) }, () =>
        round(random.uniform(0.04, 0.09), random.uniform(0.0014, 0.0032)),
      );
      const length = sections.reduce((sum, s) => sum + s.length, 0);
      const held = random.chance(0.5);
      const member = held ? crossed({ sections }, length * random.uniform(0.15, 0.45)) : { sections };
      const crossing = held
        ? ({ kind: 'support', stiffness: newtonsPerMetre(random.logUniform(1e5, 1e8)) } as const)
        : ({ kind: 'none' } as const);
      const e = ends(random.logUniform(0.1, 500), random.logUniform(0.1, 500));
      const tension = random.logUniform(20, 3000);
      const mode = random.integer(1, 4);
      const f = modes(member, newtons(tension), e, 'inPlane', crossing, mode)[mode - 1] as number;
      const back = tensionOf(member, hertz(f), mode, e, 'inPlane', crossing);
      if (!back.ok) throw new RangeError(back.reason);
      expect(Math.abs(back.tension / tension - 1)).toBeLessThan(1e-6);
    }
  });
  it('refuses a tone below the slack member and one beyond all tension', () => {
    expect(tensionOf(A, hertz(80), 1, CLAMPED, 'inPlane', { kind: 'none' })).toMatchObject({
      ok: false,
      reason: 'belowBendingTone',
    });
    expect(tensionOf(A, hertz(9000), 1, PINNED, 'inPlane', { kind: 'none' })).toMatchObject({
      ok: false,
      reason: 'outOfRange',
    });
    expect(tensionOf(A, hertz(Number.NaN), 1, SPRUNG, 'inPlane', { kind: 'none' })).toMatchObject({ ok: false });
  });
});

describe('expected tones', () => {
  it('rise with tension, along a ladder from 20 to 3000 N', () => {
    for (const [prepared, crossing] of [
      [RADIAL, 'none'],
      [HELD, 'held'],
      [HELD, 'free'],
    ] as const) {
      const ladder = expectedTones(prepared, { crossing, direction: 'inPlane' });
      expect(ladder[0]?.tensionN).toBeCloseTo(20, 6);
      expect(ladder.at(-1)?.tensionN).toBeCloseTo(3000, 6);
      ladder.forEach((rung, i) => {
        const before = ladder[i - 1];
        rung.tones.forEach((tone, k) => {
          expect(tone.frequencyHz).toBeGreaterThan(
            before?.tones[k]?.plane === tone.plane &&
              before.tones[k].mode === tone.mode &&
              before.tones[k].family === tone.family
              ? before.tones[k].frequencyHz
              : 0,
          );
          expect(rung.covariance[k]?.[k]).toBeGreaterThan(0);
        });
      });
    }
  });
  it('depart mostly together at one tension: the ratio of two of them is known far better than each', () => {
    for (const prepared of [RADIAL, HELD]) {
      const { covariance, tones } = expectedTones(prepared, { crossing: 'held', direction: 'inPlane' })[30] ?? {};
      if (!covariance || !tones) throw new Error('no rung');
      const at = (a: number, b: number) => covariance[a]?.[b] ?? Number.NaN;
      expect(at(0, 0)).toBeGreaterThan(0);
      expect(at(0, 0) + at(1, 1) - 2 * at(0, 1)).toBeLessThan(0.3 * at(0, 0));
      for (const a of tones.keys())
        for (const b of tones.keys()) {
          expect(at(a, b)).toBeCloseTo(at(b, a), 12);
          expect(Math.abs(at(a, b))).toBeLessThanOrEqual(Math.sqrt(at(a, a) * at(b, b)) * (1 + 1e-9));
          if (tones[a]?.plane !== tones[b]?.plane) expect(at(a, b)).toBe(0);
        }
    }
  });
  it('begin with the plane that was plucked', () => {
    for (const direction of ['inPlane', 'across'] as const)
      expect(expectedTones(HELD, { crossing: 'held', direction })[0]?.tones[0]?.plane).toBe(direction);
  });
  it('name the pair only where it can ring: an open crossing plucked across', () => {
    const families = (crossing: 'held' | 'free', direction: 'inPlane' | 'across') =>
      new Set(expectedTones(HELD, { crossing, direction })[20]?.tones.map((t) => t.family));
    expect(families('free', 'across')).toContain('pair');
    expect(families('held', 'across')).not.toContain('pair');
    expect(families('free', 'inPlane')).not.toContain('pair');
  });
});

describe('members that cannot be', () => {
  it.each<[string, Member, RegExp]>([
    ['no section', { sections: [] }, /no section/],
    ['a density of 80', { sections: [round(0.28, 0.002, 193e9, 80)] }, /density of section 1 is about 80/],
    ['no length', { sections: [round(0, 0.002)] }, /length of section 1 is 0/],
    ['NaN', { sections: [round(0.2, Number.NaN)] }, /is NaN/],
    ['a crossing outside', crossed(A, 0.4), /crossing is 400.0 mm/],
    ['a spoke of 3 m', { sections: [round(3, 0.002)] }, /free length is 3000.0 mm/],
  ])('refuses %s and names the value', (_, member, message) => {
    expect(checkMember(member)).toMatch(message);
    expect(() => prepareMember(described(member))).toThrow(RangeError);
  });
  it('takes every ordinary round wire', () =>
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.006, noNaN: true }),
        fc.constantFrom(1400, 1600, 2810, 4430, 7900, 8900),
        (d, rho) => {
          expect(checkMember({ sections: [round(0.28, d, 150e9, rho)] })).toBeUndefined();
        },
      ),
      { numRuns: 50, seed: 7 },
    ));
});
