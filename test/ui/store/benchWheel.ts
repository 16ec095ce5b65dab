import { catalogueKind } from '../../../src/spokes/catalogue.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../../src/spokes/nipples.ts';
import type { SideSpokes, Wheel } from '../../../src/spokes/wheel.ts';
import { CROSSING_TO_RIM_MM, MAXIMUM_N, SPOKE_COUNT, SUPPORT_LENGTH_MM } from '../../browser/testWheel.ts';

/**
 * The wheel of the browser test, as describing it by hand leaves it on the shelf.
 *
 * @param endsNmPerRad what is known of the stiffness of hub and rim: a file can say it, no form asks for it
 */
export function benchWheel(endsNmPerRad?: { readonly low: number; readonly high: number }): Wheel {
  const kind = catalogueKind('plain-2.0');
  const range = endsNmPerRad && { lowNmPerRad: endsNmPerRad.low, highNmPerRad: endsNmPerRad.high };
  const side: SideSpokes = {
    kindId: kind.id,
    nipple: NIPPLES.internal ?? USUAL_NIPPLE,
    measured: {
      supportLengthMm: { value: SUPPORT_LENGTH_MM, u: 0.5 },
      crossingToRimMm: { value: CROSSING_TO_RIM_MM, u: 0.5 },
    },
    ...(range ? { endStiffness: { hub: range, rim: range } } : {}),
    limits: { maximumN: MAXIMUM_N, unit: 'N', source: 'bench', state: { tyre: 'off' } },
  };
  const flange = (centreDistanceMm: number) => ({ pitchCircleDiameterMm: 45, centreDistanceMm, holeDiameterMm: 2.6 });
  return {
    id: 'bench',
    name: 'Bench wheel',
    createdAt: '2026-01-01T00:00:00.000Z',
    changedAt: '2026-01-01T00:00:00.000Z',
    layout: {
      kind: 'laced',
      spokeCount: SPOKE_COUNT,
      hub: { kind: 'elbow', left: flange(34), right: flange(21) },
      rim: { effectiveDiameterMm: 600, offsetMm: 0, material: 'aluminium' },
      lacing: {
        pattern: 'alternating',
        firstSide: 'left',
        left: { crosses: 2, touching: true },
        right: { crosses: 2, touching: true },
      },
    },
    sides: { left: side, right: side },
    kinds: { [kind.id]: kind },
    targetPercent: 5,
    state: { tyre: 'off' },
    calibrations: [],
    rounds: [],
  };
}
