import { catalogueKind } from '../../src/spokes/catalogue.ts';
import { USUAL_NIPPLE } from '../../src/spokes/nipples.ts';
import type { SideSpokes, SpokeKind, Wheel } from '../../src/spokes/wheel.ts';
import { laced } from './laced.ts';

/** A dished 32-spoke wheel of plain 2.0 mm spokes, everything at its default. */
export function plainWheel(
  change: Partial<Wheel> = {},
  side: Partial<SideSpokes> = {},
  kind: SpokeKind = catalogueKind('plain-2.0'),
): Wheel {
  const spokes: SideSpokes = { kindId: kind.id, nipple: USUAL_NIPPLE, ...side };
  return {
    id: 'plain',
    name: 'plain',
    createdAt: '2026-01-01T00:00:00Z',
    changedAt: '2026-01-01T00:00:00Z',
    layout: laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses: [3, 3], hole: 2.6 }),
    sides: { left: spokes, right: spokes },
    kinds: { [kind.id]: kind },
    targetPercent: 5,
    state: { tyre: 'off' },
    calibrations: [],
    rounds: [],
    ...change,
  };
}
