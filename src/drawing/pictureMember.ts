import type { Member } from '../physics/member.ts';
import type { Shape, SpokeKind } from '../spokes/wheel.ts';
import { inMillimetres, type Metres, millimetres } from '../units.ts';
import type { MemberPicture, MemberSection } from './memberPicture.ts';

/**
 * The part drawing's view of a described spoke. Lengths come from the member, widths and figures from its kind; a piece beyond the kind's
 * sections is the nipple in sight.
 * @param member hub end first, lengths in metres under tension
 */
export function pictureMember(member: Member, kind: SpokeKind, hubEnd: MemberPicture['hubEnd']): MemberPicture {
  const wire = member.sections.slice(0, kind.sections.length);
  const rest = member.sections.slice(kind.sections.length);
  const sum = (lengths: readonly { readonly length: Metres }[]): Metres =>
    lengths.reduce((total, one) => (total + one.length) as Metres, 0 as Metres);
  const sections: MemberSection[] = wire.map((section, i) => {
    const outer = kind.sections[i]?.layers[0]?.shape;
    return {
      name: kind.sections[i]?.name ?? '',
      length: section.length,
      width: outer === undefined ? millimetres(2) : widthOf(outer),
      figure: outer === undefined ? '' : figureOf(outer),
    };
  });
  return {
    supportLength: sum(member.sections),
    sections,
    nippleExposed: sum(rest),
    hubEnd,
    ...(member.crossingFromHub === undefined ? {} : { crossingFromHub: member.crossingFromHub }),
  };
}

function widthOf(shape: Shape): Metres {
  switch (shape.form) {
    case 'round':
      return millimetres(shape.diameterMm);
    case 'oval':
    case 'flat':
      return millimetres(shape.widthMm);
    case 'tube':
      return millimetres(shape.outerMm);
  }
}

function figureOf(shape: Shape): string {
  const figure = (value: number) => inMillimetres(millimetres(value)).toFixed(1);
  switch (shape.form) {
    case 'round':
      return `Ø ${figure(shape.diameterMm)}`;
    case 'oval':
    case 'flat':
      return `${figure(shape.widthMm)} × ${figure(shape.thicknessMm)}`;
    case 'tube':
      return `Ø ${figure(shape.outerMm)}`;
  }
}
