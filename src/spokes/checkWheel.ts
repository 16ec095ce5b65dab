import { describeLaidSpoke } from './describeMember.ts';
import type { DescribeRefusal } from './describeRefusal.ts';
import { expandLayout } from './expandLayout.ts';
import { layoutRefusals } from './layoutRefusal.ts';
import type { Wheel } from './wheel.ts';

/**
 * What stands between a wheel's description and absolute tensions: every field to blame, each once, in the order of the spokes.
 * Empty for a wheel that can be measured.
 */
export function checkWheel(wheel: Wheel): readonly DescribeRefusal[] {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) return layoutRefusals(laid).map((one) => ({ ...one, field: `layout.${one.field}` }));
  const refusals = new Map<string, DescribeRefusal>();
  for (const spoke of laid.spokes) {
    const described = describeLaidSpoke(wheel, spoke);
    if (!described.ok && !refusals.has(described.field)) refusals.set(described.field, described);
  }
  return [...refusals.values()];
}
