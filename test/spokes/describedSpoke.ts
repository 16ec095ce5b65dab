import { type DescribedSpoke, describeMember } from '../../src/spokes/describeMember.ts';
import type { Wheel } from '../../src/spokes/wheel.ts';

/** Of a wheel that is described well enough. */
export const described = (wheel: Wheel, number = 1): DescribedSpoke => {
  const said = describeMember(wheel, number);
  if (!said.ok) throw new Error(`${said.reason} ${said.field} ${said.detail}`);
  return said;
};
/** Why there is none, in one line; `ok` where there is one. */
export const refusal = (wheel: Wheel, number = 1): string => {
  const said = describeMember(wheel, number);
  return said.ok ? 'ok' : `${said.reason} ${said.field} ${said.detail}`;
};
/** Of all sections, m. */
export const totalLength = (spoke: DescribedSpoke) =>
  spoke.described.member.sections.reduce((sum, s) => sum + s.length, 0);
