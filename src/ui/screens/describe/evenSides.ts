import { rimPlaces } from '../../../spokes/rimPlaces.ts';
import type { LacedLayout, Side } from '../../../spokes/wheel.ts';

export type EvenPattern = 'alternating' | 'twoToOne' | 'oneSide';

const FLANGE = { pitchCircleDiameterMm: 45, centreDistanceMm: 30, holeDiameterMm: 2.6 };

/**
 * Which spoke belongs to which side, from count and pattern alone.
 * @returns undefined where the pattern does not fit the count
 */
export function evenSides(
  count: number,
  pattern: EvenPattern,
  firstSide: Side,
  moreSide: Side,
): readonly Side[] | undefined {
  if (pattern === 'oneSide') return Array.from({ length: count }, () => firstSide);
  // Places depend on count and pattern only; hub and rim are never looked at.
  const layout: LacedLayout = {
    kind: 'laced',
    spokeCount: count,
    hub: { kind: 'elbow', left: FLANGE, right: FLANGE },
    rim: { effectiveDiameterMm: 600, offsetMm: 0, material: 'unknown' },
    lacing: {
      pattern,
      firstSide,
      moreSide,
      left: { crosses: 0, touching: false },
      right: { crosses: 0, touching: false },
    },
  };
  const laid = rimPlaces(layout);
  return laid.ok ? laid.places.map((place) => place.side) : undefined;
}

export const EVEN_PATTERNS: readonly { readonly value: EvenPattern; readonly label: string }[] = [
  { value: 'alternating', label: 'left, right, left …' },
  { value: 'twoToOne', label: 'two to one' },
  { value: 'oneSide', label: 'all one side' },
];

/** The pattern that a list of sides shows. */
export function patternOf(sides: readonly Side[]): EvenPattern {
  const left = sides.filter((side) => side === 'left').length;
  if (left === 0 || left === sides.length) return 'oneSide';
  return left * 2 === sides.length ? 'alternating' : 'twoToOne';
}
