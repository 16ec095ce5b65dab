import { describe, expect, it } from 'vitest';
import { CATALOGUE, catalogueKind } from '../../src/spokes/catalogue.ts';
import { describeSpare } from '../../src/spokes/describeSpare.ts';
import { materialNamed } from '../../src/spokes/materials.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../src/spokes/nipples.ts';
import type { SpokeKind } from '../../src/spokes/wheel.ts';
import { described, refusal, totalLength } from './describedSpoke.ts';
import { plainWheel } from './plainWheel.ts';

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
