import type { MemberUncertainty } from '../physics/member.ts';
import { inMillimetres } from '../units.ts';
import type { SideSpokes } from './wheel.ts';

/** The uncertainties of a described member as a wheel file states them; absent where the member leaves one to its default. */
export const uncertaintyFigures = ({
  length,
  crossing,
  sections,
  massRelative,
  stiffnessRelative,
}: MemberUncertainty): NonNullable<SideSpokes['uncertainty']> => ({
  lengthMm: inMillimetres(length),
  crossingMm: inMillimetres(crossing),
  ...(sections === undefined ? {} : { sectionsMm: inMillimetres(sections) }),
  massPercent: 100 * massRelative,
  stiffnessPercent: 100 * stiffnessRelative,
});
