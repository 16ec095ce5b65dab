import type { How } from '../contract.ts';
import { describeLaidSpoke } from './describeMember.ts';
import type { LaidSpoke } from './laidSpoke.ts';
import { pluckDirection } from './pluckDirection.ts';
import type { Wheel } from './wheel.ts';

/**
 * How one spoke of a round is to be plucked: its crossing as the round has it, or none where nothing touches it, and the direction that its member
 * recommends. A wheel of which only the sides are known is plucked along the rim.
 *
 * @param crossing What the person does with crossings in this round.
 */
export function howToPluck(wheel: Wheel, spoke: LaidSpoke, crossing: How['crossing']): How {
  if (wheel.layout.kind === 'evenness') return { crossing, direction: 'inPlane' };
  if (spoke.touching) return { crossing, direction: 'inPlane' };
  const described = describeLaidSpoke(wheel, spoke);
  const direction = described.ok ? pluckDirection(described.described.member).direction : 'inPlane';
  return { crossing: 'none', direction };
}
