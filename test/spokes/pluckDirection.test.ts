import { describe, expect, it } from 'vitest';
import { modes } from '../../src/physics/modes.ts';
import { CATALOGUE, catalogueKind } from '../../src/spokes/catalogue.ts';
import { describeMember } from '../../src/spokes/describeMember.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { howPlucked } from '../../src/spokes/howPlucked.ts';
import { howToPluck } from '../../src/spokes/howToPluck.ts';
import type { LaidSpoke } from '../../src/spokes/laidSpoke.ts';
import { pluckDirection } from '../../src/spokes/pluckDirection.ts';
import type { Round, SpokeKind, Wheel } from '../../src/spokes/wheel.ts';
import { newtonMetresPerRadian, newtons } from '../../src/units.ts';
import { laced } from './laced.ts';
import { plainWheel } from './plainWheel.ts';
import { pluck } from './pluck.ts';

const wheelOf = (kind: SpokeKind, crosses: readonly [number, number]): Wheel =>
  plainWheel(
    { layout: laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses, hole: 2.6 }) },
    {},
    kind,
  );
const memberOf = (wheel: Wheel, spoke = 1) => {
  const described = describeMember(wheel, spoke);
  if (!described.ok) throw new RangeError(described.reason);
  return described.described.member;
};
const spokesOf = (wheel: Wheel): readonly LaidSpoke[] => {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) throw new RangeError(laid.reason);
  return laid.spokes;
};
const isBlade = (kind: SpokeKind) =>
  kind.sections.some((section) => section.layers.some((layer) => layer.shape.form === 'flat'));

describe('which way to pluck', () => {
  it.each(CATALOGUE.map((kind) => [kind.id, kind] as const))(
    'uncrossed %s: blades across the wheel, round ones along the rim',
    (_, kind) => {
      const member = memberOf(wheelOf(kind, [0, 0]));
      const expected = isBlade(kind) ? 'across' : 'inPlane';
      for (const tensionN of [300, 600, 900, 1500])
        expect(pluckDirection(member, tensionN).direction, `${tensionN} N`).toBe(expected);
    },
  );

  it('a crossed spoke along the rim, whatever its section', () => {
    for (const id of ['plain-2.0', '2.0-blade-3.2x1.0'])
      expect(pluckDirection(memberOf(wheelOf(catalogueKind(id), [3, 3])))).toMatchObject({
        direction: 'inPlane',
        because: 'crossing',
      });
  });

  it('in the plane where unknown ends leave less open', () => {
    const { leftOpen, apart, because } = pluckDirection(memberOf(wheelOf(catalogueKind('2.0-blade-3.2x1.0'), [0, 0])));
    expect(because).toBe('lessStiff');
    expect(leftOpen.across).toBeLessThan(leftOpen.inPlane);
    expect(apart).toBeGreaterThan(0.02);
  });

  it('along the rim where the two planes ring alike', () => {
    const { apart, because } = pluckDirection(memberOf(wheelOf(catalogueKind('plain-2.0'), [0, 0])));
    expect(because).toBe('alike');
    expect(apart).toBeLessThan(1e-9);
  });

  // A pinned uniform stiff string: f = (1/2L)·√(T/μ)·√(1 + π²EI/(TL²)), in either plane its own EI.
  // Fletcher, J. Acoust. Soc. Am. 36 (1964), 203 (from memory)
  it('keeps the planes as far apart as the closed form of a pinned stiff string has them', () => {
    const section = {
      length: 0.29,
      massPerLength: 0.0248,
      bendingInPlane: 0.52,
      bendingAcross: 0.051,
      axial: 6e5,
    } as unknown as Parameters<typeof pluckDirection>[0]['sections'][number];
    const loose = newtonMetresPerRadian(1e-9);
    const ends = { hub: { inPlane: loose, across: loose }, rim: { inPlane: loose, across: loose } };
    const [along] = modes({ sections: [section] }, newtons(900), ends, 'inPlane', { kind: 'none' }, 1);
    const [across] = modes({ sections: [section] }, newtons(900), ends, 'across', { kind: 'none' }, 1);
    const closed = (bending: number) => Math.sqrt(1 + (Math.PI ** 2 * bending) / (900 * 0.29 ** 2));
    expect((along ?? 0) / (across ?? 1)).toBeCloseTo(closed(0.52) / closed(0.051), 8);
    expect(pluckDirection({ sections: [section] }).direction).toBe('across');
  });
});

describe('how a spoke of a round is plucked', () => {
  const blade = catalogueKind('2.0-blade-2.2x0.9');

  it('side by side where one is crossed and the other is not', () => {
    const wheel = wheelOf(blade, [0, 2]);
    for (const spoke of spokesOf(wheel))
      expect(howToPluck(wheel, spoke, 'held')).toEqual(
        spoke.side === 'left' ? { crossing: 'none', direction: 'across' } : { crossing: 'held', direction: 'inPlane' },
      );
  });

  it('along the rim where only the sides are known', () => {
    const wheel = plainWheel({ layout: { kind: 'evenness', sides: ['left', 'right', 'left', 'right'] } });
    const [first] = spokesOf(wheel);
    if (first === undefined) throw new RangeError('no spoke');
    expect(howToPluck(wheel, first, 'held')).toEqual({ crossing: 'held', direction: 'inPlane' });
  });

  it('is told by side from what was recorded, the commonest way first, without what was put aside', () => {
    const across = { crossing: 'none', direction: 'across' } as const;
    const held = { crossing: 'held', direction: 'inPlane' } as const;
    const of = (spoke: number, how: Round['how'], more: object = {}) => ({
      ...pluck(`${spoke}`, 400),
      spoke,
      how,
      ...more,
    });
    const round = {
      plucks: [of(1, held), of(2, across), of(2, across), of(4, held), of(1, across, { putAside: true })],
    } as unknown as Round;
    expect(howPlucked(round, ['left', 'right', 'left', 'right'])).toEqual({ left: [held], right: [across, held] });
  });
});
