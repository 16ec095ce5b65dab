import { describe, expect, it } from 'vitest';
import { catalogueKind } from '../../src/spokes/catalogue.ts';
import { fibreComposite, MATERIALS, materialNamed } from '../../src/spokes/materials.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../src/spokes/nipples.ts';
import type { SpokeKind } from '../../src/spokes/wheel.ts';
import { described, refusal } from './describedSpoke.ts';
import { plainWheel } from './plainWheel.ts';

const PERCENT_1 = 0.01;

describe('a weighed spoke', () => {
  // A spoke of our own making: 2.0/1.5/2.0 mm at 7900 kg/m³, weighed as if the middle were called 1.6 mm.
  const butted = catalogueKind('2.0-1.5');
  const gramsOf = (kind: SpokeKind, lengthMm: number) => {
    const mu = (d: number) => 7900 * (Math.PI / 4) * d ** 2 * 1e-6;
    const middle = kind === butted ? 1.5 : 2;
    // 20 and 25 mm ends, 8 mm in the nipple, 9 mm of bent end and head.
    return (20 + 25 + 8 + 9) * mu(2) + (lengthMm - 20 - 25 - 8) * mu(middle);
  };

  it('tells the mass of its thin middle', () => {
    const named = catalogueKind('2.0-1.6');
    const kind = { ...named, weighed: { massG: gramsOf(butted, 292), uG: 0.05, lengthMm: 292 } };
    const spoke = described(plainWheel({}, {}, kind));
    const middle = spoke.described.member.sections[1];
    expect((middle?.massPerLength ?? 0) * 1e3).toBeCloseTo(13.9605, 3);
    // As the wire is thinner than its name, it is less stiff too: (1.5/1.6)⁴ of the name's.
    expect(middle?.bendingAcross).toBeCloseTo((190e9 * Math.PI * 0.0015 ** 4) / 64, 6);
  });

  it('is the same whether its ends were measured in the wheel or on the bench, where the thread lies open', () => {
    const inWheel = { ...catalogueKind('2.0-1.6'), weighed: { massG: gramsOf(butted, 292), uG: 0.05, lengthMm: 292 } };
    // The plain wheel shows 8 mm of nipple.
    const sections = inWheel.sections.map((one, i) => (i === 2 ? { ...one, lengthMm: 25 + 8 } : one));
    const onBench = { ...inWheel, sections, lengths: 'loose' as const };
    const there = described(plainWheel({}, {}, onBench)).described;
    const here = described(plainWheel({}, {}, inWheel)).described;
    for (const [i, section] of here.member.sections.entries())
      for (const key of ['length', 'massPerLength', 'bendingAcross'] as const)
        expect(there.member.sections[i]?.[key]).toBeCloseTo(section[key], 12);
  });

  it('whose last section would hide in the nipple is refused', () => {
    const kind = catalogueKind('2.0-1.6');
    const sections = kind.sections.map((one, i) => (i === 2 ? { ...one, lengthMm: 8 } : one));
    expect(refusal(plainWheel({}, {}, { ...kind, sections, lengths: 'loose' }))).toBe(
      'endInNipple kinds.2.0-1.6.sections.2.lengthMm > 8.0 mm',
    );
  });

  it('may be of another length than the spokes of this side', () => {
    const kind = { ...catalogueKind('2.0-1.6'), weighed: { massG: gramsOf(butted, 260), uG: 0.05, lengthMm: 260 } };
    expect((described(plainWheel({}, {}, kind)).described.member.sections[1]?.massPerLength ?? 0) * 1e3).toBeCloseTo(
      13.9605,
      3,
    );
  });

  it('keeps the stiffness of a composite rod: there the density was unknown', () => {
    const rod = catalogueKind('composite-rod-2.6-steel');
    const before = described(plainWheel({}, {}, rod));
    const loose = before.described.member.sections.slice(0, -1);
    const steel = loose[0]?.massPerLength ?? 0;
    // 8 mm of thread in the nipple and a straight head worth 5 mm of wire were on the scale too.
    const massG = 1e3 * (loose.reduce((sum, s) => sum + s.length * s.massPerLength, 0) + 0.013 * steel);
    const lighter = { ...rod, weighed: { massG: massG - 0.2, uG: 0.05, lengthMm: before.lengths.support * 1e3 } };
    const after = described(plainWheel({}, {}, lighter));
    expect(after.described.member.sections[2]?.bendingAcross).toBe(before.described.member.sections[2]?.bendingAcross);
    const rodLength = loose[2]?.length ?? 0;
    expect(after.described.member.sections[2]?.massPerLength).toBeCloseTo(
      (loose[2]?.massPerLength ?? 0) - 0.2e-3 / rodLength,
      9,
    );
  });

  it('of a blade tells its outline, in composite too: stiffness goes with it as in superellipses between ellipse and rectangle', () => {
    // |x|³ + |y|³ = 1 encloses Γ(4/3)²/Γ(5/3) = 0.8833 of its rectangle; its second moment, integrated, is 0.7500 of the rectangle's.
    const steps = 20_000;
    const part = (power: number) =>
      Array.from({ length: steps }, (_, i) => (1 - ((i + 0.5) / steps) ** 3) ** power / steps).reduce(
        (a, b) => a + b,
        0,
      );
    const [area, moment] = [part(1 / 3), part(1)];
    expect(area).toBeCloseTo(0.8833, 3);
    for (const id of ['composite-blade-3.5x1.4-titanium', '2.0-blade-2.2x0.9']) {
      const flat = catalogueKind(id);
      const bare = described(plainWheel({}, { nipple: NIPPLES.internal ?? USUAL_NIPPLE }, { ...flat, head: 'none' }));
      const { sections } = bare.described.member;
      const blade = flat.sections.findIndex((one) => one.lengthMm === 'rest');
      const grams =
        1e3 * sections.reduce((sum, one, i) => sum + one.length * one.massPerLength * (i === blade ? area : 1), 0);
      const weighed = { massG: grams, uG: 0.02, lengthMm: bare.lengths.support * 1e3 };
      const after = described(
        plainWheel({}, { nipple: NIPPLES.internal ?? USUAL_NIPPLE }, { ...flat, head: 'none', weighed }),
      );
      const ratio =
        (after.described.member.sections[blade]?.bendingInPlane ?? 0) / (sections[blade]?.bendingInPlane ?? 1);
      expect(Math.abs(ratio / moment - 1), id).toBeLessThan(0.05);
      expect(after.described.uncertainty.stiffnessRelative).toBeGreaterThan(0.03);
    }
  });

  it('binds borders to mass, and bending to it where weighing tells a thickness; the nipple was not on the scale', () => {
    const bindingOf = (id: string, massG: number) => {
      const kind = catalogueKind(id);
      return described(plainWheel({}, {}, { ...kind, weighed: { massG, uG: 0.05, lengthMm: 292 } })).described;
    };
    const steel = bindingOf('2.0-1.5', gramsOf(butted, 292));
    expect(steel.member.weighed).toEqual({ sections: 3, bends: true });
    expect(steel.member.sections).toHaveLength(4);
    const bare = described(plainWheel({}, {}, butted)).described;
    expect(bare.member.weighed).toBeUndefined();
    // The half that the diameter has in the stiffness goes with the mass now: what is left is the modulus.
    expect(bare.uncertainty.stiffnessRelative ** 2 - steel.uncertainty.stiffnessRelative ** 2).toBeCloseTo(
      0.02 ** 2,
      9,
    );
    expect(bindingOf('composite-rod-2.6-steel', 5.2).member.weighed?.bends).toBe(false);
    expect(bindingOf('composite-blade-3.5x1.4-titanium', 4.6).member.weighed?.bends).toBe(true);
  });

  it('in a list that says nothing of its head is as unsure as an elbow and a straight head lie apart', () => {
    const butts = catalogueKind('2.0-1.5');
    const spokes = Array.from({ length: 4 }, () => ({ side: 'left' as const, supportLengthMm: 292 }));
    const middleOf = (head: SpokeKind['head']) => {
      const kind = { ...butts, weighed: { massG: 5.4, uG: 0.02, lengthMm: 292 }, ...(head && { head }) };
      const { member, uncertainty } = described(plainWheel({ layout: { kind: 'list', spokes } }, {}, kind)).described;
      return { mass: member.sections[1]?.massPerLength ?? 0, u: uncertainty.massRelative };
    };
    const unsaid = middleOf(undefined);
    for (const head of ['elbow', 'straight'] as const) {
      const said = middleOf(head);
      // 2 mm of 2.0 mm wire, either way, of a middle that weighs 14 g/m and is 239 mm long: 1.5 %.
      expect(Math.abs(said.mass / unsaid.mass - 1)).toBeCloseTo((2 * 24.82) / (239 * unsaid.mass * 1e3), 3);
      expect(Math.abs(said.mass / unsaid.mass - 1)).toBeLessThan(unsaid.u);
    }
  });

  it('is as sure as the scale, the ruler and the head allow', () => {
    const kind = { ...catalogueKind('plain-2.0'), weighed: { massG: 7.3, uG: 0.05, lengthMm: 292 } };
    const { massRelative } = described(plainWheel({}, {}, kind)).described.uncertainty;
    // 0.05 g of 7.3 g with 2 mm of head and 0.5 mm of ruler in 301 mm.
    expect(massRelative).toBeCloseTo(Math.hypot(0.05 / 7.3, 2 / 301, 0.5 / 301), 3);
  });

  it('that contradicts its dimensions is refused with the mass that they give', () => {
    const kind = { ...catalogueKind('plain-2.0'), weighed: { massG: 73, uG: 0.05, lengthMm: 292 } };
    expect(refusal(plainWheel({}, {}, kind))).toMatch(
      /^weighingContradicts kinds\.plain-2\.0\.weighed\.massG 7\.\d\d g$/,
    );
  });
});

describe('materials', () => {
  it('mix as in a published example of glass in epoxy', () => {
    // Kaw, Mechanics of Composite Materials, example of a 70 % glass/epoxy lamina: 2110 kg/m³, 60.52 GPa.
    const base = materialNamed('glass fibre, along the fibre');
    const glass = { ...base, name: 'glass', modulusGPa: 85, densityKgM3: 2500, shearModulusGPa: 35.42 };
    const epoxy = { ...base, name: 'epoxy', modulusGPa: 3.4, densityKgM3: 1200, shearModulusGPa: 1.308 };
    const mixed = fibreComposite(glass, epoxy, 0.7);
    expect(mixed.densityKgM3).toBeCloseTo(2110, 9);
    expect(mixed.modulusGPa).toBeCloseTo(60.52, 9);
    // The same example by Halpin and Tsai: 6.169 GPa, from memory.
    expect(mixed.shearModulusGPa).toBeCloseTo(6.169, 2);
    const { shearModulusGPa: _, ...silent } = epoxy;
    expect(fibreComposite(glass, silent, 0.7).shearModulusGPa).toBeUndefined();
    expect(() => fibreComposite(glass, epoxy, 70)).toThrow('fibre fraction 70');
  });

  it('have the specific stiffness that handbooks and string makers give', () => {
    // Young (1952) uses E/ρ = 25.5e6 m²/s² for music wire; 304 wire 24.4e6, Ti-6Al-4V 25.7e6: within the modulus uncertainty.
    const specific = (name: keyof typeof MATERIALS) => (MATERIALS[name].modulusGPa * 1e9) / MATERIALS[name].densityKgM3;
    expect(specific('spring steel wire') / 25.5e6 - 1).toBeLessThan(2 * PERCENT_1);
    expect(Math.abs(specific('stainless steel wire') / 24.43e6 - 1)).toBeLessThan(4 * PERCENT_1);
    expect(Math.abs(specific('titanium 6Al-4V') / 25.73e6 - 1)).toBeLessThan(PERCENT_1);
  });
});
