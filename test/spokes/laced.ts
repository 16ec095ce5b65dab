import type { LacedLayout, LacedSide } from '../../src/spokes/wheel.ts';

interface Dimensions {
  readonly effective: number;
  readonly pitch: number;
  /** Left and right, centre to flange. */
  readonly centre: readonly [number, number];
  readonly count: number;
  readonly crosses: readonly [number, number];
  readonly hole: number;
}

/** A laced layout from the six figures that the trade's length formula takes. */
export function laced(
  d: Dimensions,
  more: Partial<LacedLayout['lacing']> = {},
  hub: 'elbow' | 'straightPull' = 'elbow',
): LacedLayout {
  const side = (crosses: number): LacedSide => ({ crosses, touching: true });
  const flange = (centreDistanceMm: number) => ({
    pitchCircleDiameterMm: d.pitch,
    centreDistanceMm,
    holeDiameterMm: d.hole,
  });
  return {
    kind: 'laced',
    spokeCount: d.count,
    hub: { kind: hub, left: flange(d.centre[0]), right: flange(d.centre[1]) },
    rim: { effectiveDiameterMm: d.effective, offsetMm: 0, material: 'aluminium' },
    lacing: {
      pattern: 'alternating',
      firstSide: 'right',
      left: side(d.crosses[0]),
      right: side(d.crosses[1]),
      ...more,
    },
  };
}
