import { describeLaidSpoke } from '../spokes/describeMember.ts';
import { expandLayout } from '../spokes/expandLayout.ts';
import { weighedAside } from '../spokes/weighedAside.ts';
import type { Wheel } from '../spokes/wheel.ts';

/** A sentence for each weighed kind of the wheel that its scale and its dimensions do not agree on. */
export function weighingWarnings(name: string, wheel: Wheel): readonly string[] {
  const laid = expandLayout(wheel.layout);
  const told = new Map<string, string>();
  for (const spoke of laid.ok ? laid.spokes : []) {
    const described = describeLaidSpoke(wheel, spoke);
    if (!described.ok || described.weighedFactor === undefined || told.has(described.kindId)) continue;
    const kind = wheel.kinds[described.kindId];
    const aside = kind && weighedAside(kind, described.weighedFactor);
    if (!aside?.questionable) continue;
    const by = `${Math.abs(aside.percent).toFixed(1)} % ${aside.percent < 0 ? 'lighter' : 'heavier'}`;
    told.set(
      described.kindId,
      `${name}: weighed, the ${aside.section} of ${kind?.name} is ${by} than its dimensions say, more than wire varies. Check its diameter, and whether its sections end at the nipple or at the end of the thread (lengths: inWheel or loose).`,
    );
  }
  return [...told.values()];
}
