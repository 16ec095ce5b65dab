import type { How } from '../../../contract.ts';
import { howToPluck } from '../../../spokes/howToPluck.ts';
import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';
import type { Wheel } from '../../../spokes/wheel.ts';

/** One way of plucking, and whose it is. */
export interface Way {
  readonly how: How;
  /** Empty where every spoke is plucked so. */
  readonly who: string;
}

/** Every way in which spokes of this wheel are plucked, those of the first spoke first. */
export function waysToPluck(wheel: Wheel, spokes: readonly LaidSpoke[], crossing: How['crossing']): readonly Way[] {
  const alike = new Map<string, How>();
  const ways = new Map<string, { readonly how: How; readonly spokes: LaidSpoke[] }>();
  for (const spoke of spokes) {
    const kind = `${spoke.side} ${spoke.touching} ${spoke.kindId ?? ''}`;
    const how = alike.get(kind) ?? howToPluck(wheel, spoke, crossing);
    alike.set(kind, how);
    const key = `${how.crossing} ${how.direction}`;
    const way = ways.get(key);
    if (way) way.spokes.push(spoke);
    else ways.set(key, { how, spokes: [spoke] });
  }
  return [...ways.values()].map((way) => ({ how: way.how, who: whose(way.spokes, spokes) }));
}

function whose(own: readonly LaidSpoke[], all: readonly LaidSpoke[]): string {
  if (own.length === all.length) return '';
  for (const side of ['left', 'right'] as const)
    if (own.every((one) => one.side === side) && own.length === all.filter((one) => one.side === side).length)
      return side === 'left' ? 'Left side' : 'Right side';
  return own[0]?.touching === true ? 'Spokes that touch another' : 'Spokes that touch no other';
}
