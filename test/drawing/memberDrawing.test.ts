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

const never = (): never => {
  throw new RangeError('the spoke has three sections');
};

describe('memberDrawing', () => {
  it('dimensions the whole, the crossing and the free length, in the unit chosen', () => {
    const metric = lettering(memberDrawing(member, { label: 'spoke', lengthUnit: 'mm' }));
    expect(metric).toEqual(expect.arrayContaining(['71.0', '219.0 free', '290.0 mm']));
    const inches = lettering(memberDrawing(member, { label: 'spoke', lengthUnit: 'in' }));
    expect(inches).toContain('11.417 in');
  });

  it('dimensions the ends as a ruler finds them: at the rim from the middle section to the nipple, which is not part of it', () => {
    const [ends] = withClass(memberDrawing(member, { label: 'spoke', lengthUnit: 'mm' }), 'ends');
    const [hub, rim] = (ends?.children ?? []).flatMap((one) => (typeof one === 'string' ? [] : [one]));
    const span = (dimension: typeof hub) => {
      const lines = (dimension?.children ?? []).flatMap((one) =>
        typeof one !== 'string' && one.name === 'line' && one.attributes.x1 === one.attributes.x2
          ? [Number(one.attributes.x1)]
          : [],
      );
      return [Math.min(...lines), Math.max(...lines)] as const;
    };
    const perMetre = (384 - 26) / 0.29;
    expect(span(hub)[1] - span(hub)[0]).toBeCloseTo(0.03 * perMetre, 1);
    expect(span(rim)[1]).toBeCloseTo(384 - 0.008 * perMetre, 1);
    expect(span(rim)[1] - span(rim)[0]).toBeCloseTo(0.03 * perMetre, 1);
    const plain = { ...member, sections: [{ ...(member.sections[1] ?? never()), length: metres(0.282) }] };
    expect(withClass(memberDrawing(plain, { label: 'spoke', lengthUnit: 'mm' }), 'ends')).toHaveLength(0);
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
