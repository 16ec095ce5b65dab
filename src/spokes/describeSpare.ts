import type { DescribedMember, Section } from '../physics/member.ts';
import { metres, millimetres } from '../units.ts';
import { DEFAULT_UNCERTAINTY, headOf } from './describeMember.ts';
import { type DescribeRefusal, refuseDescription } from './describeRefusal.ts';
import { kindSections } from './kindSections.ts';
import { nippleSection } from './nippleSection.ts';
import type { Calibration, Side, Wheel } from './wheel.ts';

/** What of a calibration describes the loose spoke. */
export type SpareSpoke = Pick<Calibration, 'kindId' | 'supportLengthMm' | 'uSupportLengthMm' | 'threadEnd'>;

/**
 * A loose spoke between the supports of its load, as the member that rings: uncrossed, with ends of its own.
 *
 * Sections are those of its kind at the stated length, so that mass and stiffness are the wheel's, with the uncertainties of the side that
 * has the kind. A spoke hung in its own nipple ends in that side's nipple; one held by a clamp ends in bare wire.
 *
 * @param side Of the wheel, whose nipple and stated uncertainties count.
 */
export function describeSpare(
  wheel: Wheel,
  side: Side,
  spare: SpareSpoke,
): { readonly ok: true; readonly described: DescribedMember } | DescribeRefusal {
  const own = wheel.sides?.[side];
  if (own === undefined) return refuseDescription('noSides', `sides.${side}`, '–');
  const kindId = spare.kindId ?? '';
  const kind = Object.hasOwn(wheel.kinds, kindId) ? wheel.kinds[kindId] : undefined;
  if (kind === undefined) return refuseDescription('kindUnknown', 'kindId', kindId);
  const length = millimetres(spare.supportLengthMm ?? 0);
  if (!(length > 0.02 && length < 1)) return refuseDescription('measuredImpossible', 'supportLengthMm', '20–1000 mm');
  const uLength =
    spare.uSupportLengthMm === undefined ? DEFAULT_UNCERTAINTY.ruler : millimetres(spare.uSupportLengthMm);
  if (!(uLength > 0 && uLength < 0.05))
    return refuseDescription('uncertaintyImpossible', 'uSupportLengthMm', `${spare.uSupportLengthMm}`);
  const exposed = own.nipple.kind === 'external' ? millimetres(own.nipple.exposedMm) : metres(0);
  const hung = spare.threadEnd === 'nipple' && exposed > 0;
  const wire = metres(length - (hung ? exposed : 0));
  // Weighed as the wheel's spokes are: the wire that the nipple hides lies beyond this length too.
  const laid = kindSections(kind, `kinds.${kindId}`, wire, exposed, kind.head ?? headOf(wheel));
  if (!laid.ok) return laid;
  const sections: Section[] = [...laid.sections];
  const end = sections.at(-1);
  if (hung && end) {
    const nipple = nippleSection(own.nipple, `sides.${side}.nipple`, kind, end);
    if (!nipple.ok) return nipple;
    sections.push(nipple.section);
  }
  const { massPercent, stiffnessPercent, sectionsMm } = own.uncertainty ?? {};
  return {
    ok: true,
    described: {
      member: { sections, ...(laid.weighed ? { weighed: laid.weighed } : {}) },
      uncertainty: {
        massRelative: massPercent === undefined ? laid.massRelative : massPercent / 100,
        length: uLength,
        crossing: metres(0),
        sections: sectionsMm === undefined ? DEFAULT_UNCERTAINTY.sections : millimetres(sectionsMm),
        stiffnessRelative: stiffnessPercent === undefined ? laid.stiffnessRelative : stiffnessPercent / 100,
      },
    },
  };
}

/** A side of the wheel whose spokes are of this kind; the left where none is. */
export const sideOfKind = (wheel: Wheel, kindId: string | undefined): Side =>
  wheel.sides?.left.kindId !== kindId && wheel.sides?.right.kindId === kindId ? 'right' : 'left';
