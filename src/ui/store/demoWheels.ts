import { catalogueKind } from '../../spokes/catalogue.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../spokes/nipples.ts';
import type { SideSpokes, Wheel } from '../../spokes/wheel.ts';
import type { DemoName } from './appActions.ts';

/** A wheel of our own invention with the tensions that its sound is made from. No maker's product. */
export interface DemoWheel {
  readonly wheel: Wheel;
  /** By place, spoke 1 first, N. */
  readonly tensionsN: readonly number[];
}

/** Samples a second of the demo's sound. */
export const DEMO_RATE_HZ = 44_100;

const CREATED = '2026-01-01T00:00:00.000Z';
const STATE = { tyre: 'off', temperatureC: 20 } as const;

/**
 * A rear wheel of 32 butted steel spokes, three-cross. Side means stand as the hub's geometry asks (18.5 to 36 mm); the scatter
 * is a fixed list, and four spokes are clearly off, one of them beyond the limit.
 */
function steelRear(): DemoWheel {
  const kind = catalogueKind('2.0-1.8');
  const limits = { maximumN: 1200, unit: 'N', source: 'made up for this demo', state: { tyre: 'off' } } as const;
  const side = (minimumN: number): SideSpokes => ({
    kindId: kind.id,
    nipple: USUAL_NIPPLE,
    limits: { ...limits, minimumN },
  });
  return {
    wheel: {
      id: 'demo-steel-rear',
      name: 'Demo: rear wheel, 32 steel spokes',
      note: 'Invented for trying the app. Its sound is computed, then heard like any other.',
      createdAt: CREATED,
      changedAt: CREATED,
      layout: {
        kind: 'laced',
        spokeCount: 32,
        hub: {
          kind: 'elbow',
          left: { pitchCircleDiameterMm: 58, centreDistanceMm: 36, holeDiameterMm: 2.6 },
          right: { pitchCircleDiameterMm: 58, centreDistanceMm: 19, holeDiameterMm: 2.6 },
        },
        rim: { effectiveDiameterMm: 600, offsetMm: 0, material: 'aluminium', stiffnessClass: 'medium' },
        lacing: {
          pattern: 'alternating',
          firstSide: 'left',
          left: { crosses: 3, touching: true },
          right: { crosses: 3, touching: true },
        },
      },
      sides: { left: side(400), right: side(700) },
      kinds: { [kind.id]: kind },
      targetPercent: 5,
      state: STATE,
      calibrations: [],
      rounds: [],
    },
    tensionsN: alternate(32, 556, 1050, { 5: 470, 12: 1300, 20: 890, 27: 640 }),
  };
}

/** A rear wheel of 24 composite rods with bonded metal ends, straight-pull, two-cross, one spoke slack and one tight. */
function compositeRear(): DemoWheel {
  const kind = catalogueKind('composite-rod-2.6-steel');
  const nipple = NIPPLES['aluminium 14 mm'] ?? USUAL_NIPPLE;
  const limits = { maximumN: 1300, unit: 'N', source: 'made up for this demo', state: { tyre: 'off' } } as const;
  const side = (minimumN: number): SideSpokes => ({
    kindId: kind.id,
    nipple,
    limits: { ...limits, minimumN },
  });
  return {
    wheel: {
      id: 'demo-composite-rear',
      name: 'Demo: rear wheel, 24 composite spokes',
      note: 'Invented for trying the app. Its sound is computed, then heard like any other.',
      createdAt: CREATED,
      changedAt: CREATED,
      layout: {
        kind: 'laced',
        spokeCount: 24,
        hub: {
          kind: 'straightPull',
          left: { pitchCircleDiameterMm: 50, centreDistanceMm: 34, holeDiameterMm: 0 },
          right: { pitchCircleDiameterMm: 52, centreDistanceMm: 20, holeDiameterMm: 0 },
        },
        rim: { effectiveDiameterMm: 572, offsetMm: -2.5, material: 'composite', stiffnessClass: 'stiff' },
        lacing: {
          pattern: 'alternating',
          firstSide: 'left',
          left: { crosses: 2, touching: true },
          right: { crosses: 2, touching: true },
        },
      },
      sides: { left: side(450), right: side(800) },
      kinds: { [kind.id]: kind },
      targetPercent: 5,
      state: STATE,
      calibrations: [],
      rounds: [],
    },
    tensionsN: alternate(24, 815, 1120, { 4: 1380, 9: 560 }),
  };
}

/** Percent by which a spoke stands off its side's mean: a fixed list without a trend, within a careful builder's 3 %. */
const SCATTER_PERCENT = [0.8, -1.6, 2.1, -0.4, 1.3, -2.2, 0.2, -1.1, 1.9, -0.7, -1.8, 1.0, 2.4, -0.9, 0.5, -1.4];

function alternate(
  count: number,
  leftN: number,
  rightN: number,
  off: Readonly<Record<number, number>>,
): readonly number[] {
  return Array.from({ length: count }, (_, index) => {
    const scatter = SCATTER_PERCENT[(index * 7) % SCATTER_PERCENT.length] ?? 0;
    return off[index + 1] ?? (index % 2 === 0 ? leftN : rightN) * (1 + scatter / 100);
  });
}

export const demoWheel = (name: DemoName): DemoWheel => (name === 'steelRear' ? steelRear() : compositeRear());

/** The demo behind a wheel on the shelf; absent for the person's own wheels. */
export const demoOf = (wheelId: string): DemoWheel | undefined =>
  [steelRear(), compositeRear()].find((demo) => demo.wheel.id === wheelId);
