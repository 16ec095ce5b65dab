import { describe, expect, it } from 'vitest';
import { memberDrawing } from '../../src/drawing/memberDrawing.ts';
import type { MemberPicture } from '../../src/drawing/memberPicture.ts';
import { metres } from '../../src/units.ts';
import { lettering, withClass } from './everyNode.ts';

const member: MemberPicture = {
  supportLength: metres(0.29),
  crossingFromHub: metres(0.071),
  nippleExposed: metres(0.008),
  hubEnd: 'elbow',
  sections: [
    { name: 'hub end', length: metres(0.03), width: metres(0.002), figure: 'Ø 2.0' },
    { name: 'middle', length: metres(0.23), width: metres(0.0015), figure: 'Ø 1.5' },
    { name: 'rim end', length: metres(0.03), width: metres(0.002), figure: 'Ø 2.0' },
  ],
};

describe('memberDrawing', () => {
  it('dimensions the whole, the crossing and the free length, in the unit chosen', () => {
    const metric = lettering(memberDrawing(member, { label: 'spoke', lengthUnit: 'mm' }));
    expect(metric).toEqual(expect.arrayContaining(['71.0', '219.0 free', '290.0 mm']));
    const inches = lettering(memberDrawing(member, { label: 'spoke', lengthUnit: 'in' }));
    expect(inches).toContain('11.417 in');
  });

  it('draws section lengths to one scale', () => {
    const blocks = withClass(memberDrawing(member, { label: 'spoke', lengthUnit: 'mm' }), 'sections')[0]?.children;
    const widths = (blocks ?? []).flatMap((b) =>
      typeof b !== 'string' && b.name === 'rect' ? [Number(b.attributes.width)] : [],
    );
    expect(widths).toHaveLength(3);
    expect((widths[1] ?? 0) / (widths[0] ?? 1)).toBeCloseTo(0.23 / 0.03, 1);
  });

  it('shades only what rings: outside the crossing where it is held', () => {
    const width = (ringing: 'whole' | 'outsideCrossing') => {
      const band = withClass(memberDrawing(member, { label: 'spoke', lengthUnit: 'mm', ringing }), 'band')[0];
      return Number(band?.attributes.width);
    };
    expect(width('outsideCrossing') / width('whole')).toBeCloseTo(219 / 290, 2);
  });

  it('refuses a length that is not positive', () => {
    expect(() => memberDrawing({ ...member, supportLength: metres(0) }, { label: 'x', lengthUnit: 'mm' })).toThrow(
      RangeError,
    );
  });
});
