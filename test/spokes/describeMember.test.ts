import { describe, expect, it } from 'vitest';
import { CATALOGUE, catalogueKind } from '../../src/spokes/catalogue.ts';
import { type DescribedSpoke, describeMember } from '../../src/spokes/describeMember.ts';
import { describeSpare } from '../../src/spokes/describeSpare.ts';
import { fibreComposite, MATERIALS, materialNamed } from '../../src/spokes/materials.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../src/spokes/nipples.ts';
import type { SpokeKind, Wheel } from '../../src/spokes/wheel.ts';
import { plainWheel } from './plainWheel.ts';

const described = (wheel: Wheel, number = 1): DescribedSpoke => {
  const said = describeMember(wheel, number);
  if (!said.ok) throw new Error(`${said.reason} ${said.field} ${said.detail}`);
  return said;
};
const refusal = (wheel: Wheel, number = 1): string => {
  const said = describeMember(wheel, number);
  return said.ok ? 'ok' : `${said.reason} ${said.field} ${said.detail}`;
};
const totalLength = (spoke: DescribedSpoke) => spoke.described.member.sections.reduce((sum, s) => sum + s.length, 0);
const PERCENT_1 = 0.01;

describe('a member described from a wheel', () => {
  it('has the mass per length and stiffness of its wire', () => {
    const [wire] = described(plainWheel()).described.member.sections;
    // 7900 kg/m³ · π/4 · (2.0 mm)² = 24.81858 g/m; E·π/64·d⁴ with 190 GPa.
    expect((wire?.massPerLength ?? 0) * 1e3).toBeCloseTo(24.81858, 5);
    expect(wire?.bendingInPlane).toBeCloseTo((190e9 * Math.PI * 0.002 ** 4) / 64, 12);
    expect(wire?.axial).toBeCloseTo((190e9 * Math.PI * 0.002 ** 2) / 4, 6);
  });

  it('is as long as the spoke between its supports, the visible nipple included', () => {
    const spoke = described(plainWheel());
    expect(totalLength(spoke)).toBeCloseTo(spoke.lengths.support, 12);
    expect(spoke.described.member.sections.at(-1)?.length).toBeCloseTo(0.008, 12);
    expect(spoke.described.member.sections.at(-1)?.bendingInPlane ?? 0).toBeGreaterThan(
      5 * (spoke.described.member.sections[0]?.bendingInPlane ?? 0),
    );
  });

  it('has no stiff end piece with an internal nipple', () => {
    const spoke = described(plainWheel({}, { nipple: NIPPLES.internal ?? USUAL_NIPPLE }));
    expect(spoke.described.member.sections).toHaveLength(1);
    expect(totalLength(spoke)).toBeCloseTo(spoke.lengths.support, 12);
  });

  it('fills the rest of every kind of the catalogue and stays within the published bounds of uncertainty', () => {
    for (const kind of CATALOGUE) {
      const spoke = described(plainWheel({}, {}, kind));
      expect(totalLength(spoke), kind.id).toBeCloseTo(spoke.lengths.support, 12);
      expect(spoke.described.uncertainty.massRelative).toBeGreaterThanOrEqual(0.01);
      for (const section of spoke.described.member.sections) {
        expect(section.massPerLength).toBeGreaterThan(0);
        expect(section.bendingAcross).toBeGreaterThan(0);
      }
    }
  });

  it('bends a blade stiffly along the rim and easily across', () => {
    const spoke = described(plainWheel({}, {}, catalogueKind('2.0-blade-2.2x0.9')));
    const middle = spoke.described.member.sections[1];
    // Rectangle: the two second moments are as the squares of width and thickness.
    expect((middle?.bendingInPlane ?? 0) / (middle?.bendingAcross ?? 1)).toBeCloseTo((2.2 / 0.9) ** 2, 9);
  });

  it('adds the stiffness of a sleeve to that of the rod bonded in it', () => {
    const spoke = described(plainWheel({}, {}, catalogueKind('composite-rod-2.6-aluminium')));
    const sleeve = spoke.described.member.sections[1];
    const rod = (140e9 * Math.PI * 0.0026 ** 4) / 64;
    const tube = (71.7e9 * Math.PI * (0.0042 ** 4 - 0.0026 ** 4)) / 64;
    expect(sleeve?.bendingAcross).toBeCloseTo(rod + tube, 9);
  });

  it('gives composite its shear and leaves metal without', () => {
    const { sections } = described(plainWheel({}, {}, catalogueKind('composite-rod-2.6-aluminium'))).described.member;
    const [head, sleeve, rod] = sections;
    // Cowper 1966 at ν = 0: round 6/7, tube of bore m 6(1 + m²)²/(7(1 + m²)² + 20m²); aluminium's G = E/2.6.
    const core = (6 / 7) * 5.5e9 * (Math.PI / 4) * 0.0026 ** 2;
    const bore = (2.6 / 4.2) ** 2;
    const share = (6 * (1 + bore) ** 2) / (7 * (1 + bore) ** 2 + 20 * bore);
    const tube = share * (71.7e9 / 2.6) * (Math.PI / 4) * (0.0042 ** 2 - 0.0026 ** 2);
    expect(rod?.shear).toBeCloseTo(core, 6);
    expect(sleeve?.shear).toBeCloseTo(core + tube, 6);
    expect(head?.shear).toBeUndefined();
    for (const id of ['2.0-1.8', 'plain-2.0-titanium', '2.0-blade-2.2x0.9'])
      expect(
        described(plainWheel({}, {}, catalogueKind(id))).described.member.sections.some((s) => s.shear !== undefined),
      ).toBe(false);
  });

  it.each([
    ['a polymer-fibre rod', 1380, 2.3],
    ['a carbon rod', 1580, 5.5],
    ['a glass rod', 2000, 4.5],
    ['a rod whose own is stated', 1580, 7.2],
  ])('takes the shear of %s described before there was a field for it by its density', (_, densityKgM3, shearGPa) => {
    const kind = catalogueKind('composite-rod-2.6-steel');
    const material = {
      name: 'typed in',
      modulusGPa: 120,
      densityKgM3,
      uModulusPercent: 5,
      expansionPerK: 0,
      ...(shearGPa === 7.2 ? { shearModulusGPa: 7.2 } : {}),
    };
    const sections = kind.sections.map((section) =>
      section.lengthMm === 'rest' ? { ...section, layers: section.layers.map((l) => ({ ...l, material })) } : section,
    );
    const rod = described(plainWheel({}, {}, { ...kind, sections })).described.member.sections[2];
    expect(rod?.shear).toBeCloseTo((6 / 7) * shearGPa * 1e9 * (Math.PI / 4) * 0.0026 ** 2, 6);
  });

  it('takes measured lengths in place of computed ones and keeps both', () => {
    const wheel = plainWheel(
      {},
      { measured: { supportLengthMm: { value: 290, u: 0.5 }, crossingToRimMm: { value: 215, u: 0.4 } } },
    );
    const spoke = described(wheel);
    expect(spoke.lengths.support).toBeCloseTo(0.29, 12);
    expect(spoke.lengths.free).toBeCloseTo(0.215, 12);
    expect(spoke.lengths.crossingFromHub).toBeCloseTo(0.075, 12);
    expect(spoke.lengths.computedSupport).toBeCloseTo(described(plainWheel()).lengths.support, 12);
    expect(spoke.described.uncertainty.length).toBeCloseTo(0.0005, 12);
    expect(spoke.described.uncertainty.crossing).toBeCloseTo(0.0004, 12);
  });

  it('takes the stated uncertainty of where its sections end, 1.5 mm where none is stated, and refuses an absurd one', () => {
    const sure = (uncertainty?: { readonly sectionsMm: number }) => plainWheel({}, uncertainty ? { uncertainty } : {});
    expect(described(sure({ sectionsMm: 0.4 })).described.uncertainty.sections).toBeCloseTo(0.0004, 12);
    expect(described(sure()).described.uncertainty.sections).toBeCloseTo(0.0015, 12);
    expect(refusal(sure({ sectionsMm: -1 }))).toMatch(/^uncertaintyImpossible sides\.right\.uncertainty\.sectionsMm /);
    const spare = { kindId: 'plain-2.0', supportLengthMm: 280 };
    for (const [wheel, expected] of [
      [sure({ sectionsMm: 0.4 }), 0.0004],
      [sure(), 0.0015],
    ] as const) {
      const loose = describeSpare(wheel, 'left', spare);
      expect(loose.ok && loose.described.uncertainty.sections).toBeCloseTo(expected, 12);
    }
  });

  it('keeps the crossing in proportion when only the length was measured', () => {
    const before = described(plainWheel());
    const after = described(plainWheel({}, { measured: { supportLengthMm: { value: 300, u: 0.5 } } }));
    expect((after.lengths.crossingFromHub ?? 0) / 0.3).toBeCloseTo(
      (before.lengths.crossingFromHub ?? 0) / before.lengths.support,
      12,
    );
  });
});

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

describe('a description that cannot be', () => {
  const change = (edit: (kind: SpokeKind) => SpokeKind) => refusal(plainWheel({}, {}, edit(catalogueKind('2.0-1.8'))));
  const withLayer = (edit: object) => (kind: SpokeKind) => ({
    ...kind,
    sections: kind.sections.map((s) => ({ ...s, layers: s.layers.map((l) => ({ ...l, ...edit })) })),
  });
  const steel = materialNamed('stainless steel wire');
  const AT = 'kinds.2.0-1.8.sections';

  it.each([
    [
      'a density of 80',
      withLayer({ material: { ...steel, densityKgM3: 80 } }),
      `materialImpossible ${AT}.0.layers.0.material.densityKgM3 500–20000 kg/m³`,
    ],
    [
      'a 0.2 mm wire',
      withLayer({ shape: { form: 'round', diameterMm: 0.2 } }),
      `shapeImpossible ${AT}.0.layers.0.shape.diameterMm 0.5–12 mm`,
    ],
    [
      'a tube inside out',
      withLayer({ shape: { form: 'tube', outerMm: 2, innerMm: 3 } }),
      `shapeImpossible ${AT}.0.layers.0.shape.innerMm < 2 mm`,
    ],
    [
      'a modulus that is not a number',
      withLayer({ material: { ...steel, modulusGPa: Number.NaN } }),
      `materialImpossible ${AT}.0.layers.0.material.modulusGPa 1–1000 GPa`,
    ],
    [
      'a shear modulus of none',
      withLayer({ material: { ...steel, shearModulusGPa: 0 } }),
      `materialImpossible ${AT}.0.layers.0.material.shearModulusGPa 0.3–400 GPa`,
    ],
    ['no sections', (kind: SpokeKind) => ({ ...kind, sections: [] }), `noSections ${AT} 1`],
    [
      'two rests',
      (kind: SpokeKind) => ({ ...kind, sections: kind.sections.map((s) => ({ ...s, lengthMm: 'rest' as const })) }),
      `twoRests ${AT} 1`,
    ],
    [
      'sections longer than the spoke',
      (kind: SpokeKind) => ({
        ...kind,
        sections: kind.sections.map((s) => (s.lengthMm === 20 ? { ...s, lengthMm: 400 } : s)),
      }),
      `sectionsTooLong ${AT} 425.0 mm > 284.4 mm`,
    ],
  ])('%s is refused by name', (_, edit, said) => {
    expect(change(edit)).toBe(said);
  });

  it('a spoke that does not exist, a kind that is not there, a wheel known by its sides alone', () => {
    expect(refusal(plainWheel(), 33)).toBe('noSuchSpoke layout 1–32');
    expect(refusal(plainWheel({ kinds: {} }))).toBe('kindUnknown sides.right.kindId plain-2.0');
    expect(refusal(plainWheel({ layout: { kind: 'evenness', sides: ['left', 'right', 'left', 'right'] } }))).toBe(
      'evennessOnly layout –',
    );
  });

  it('an end stiffness upside down, a measured length of nothing, a nipple longer outside than in all', () => {
    expect(refusal(plainWheel({}, { endStiffness: { rim: { lowNmPerRad: 20, highNmPerRad: 10 } } }))).toBe(
      'endStiffnessImpossible sides.right.endStiffness.rim 0 < low ≤ high',
    );
    expect(refusal(plainWheel({}, { measured: { supportLengthMm: { value: 0, u: 1 } } }))).toBe(
      'measuredImpossible sides.right.measured.supportLengthMm 20–1000 mm',
    );
    const nipple = { ...USUAL_NIPPLE, exposedMm: 14 };
    expect(refusal(plainWheel({}, { nipple }))).toBe('nippleImpossible sides.right.nipple.exposedMm 0–12 mm');
  });
});
