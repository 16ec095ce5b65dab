import { catalogueKind } from '../../../spokes/catalogue.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../../spokes/nipples.ts';
import type { Hub, LacedLayout, Lacing, Nipple, Rim, Wheel } from '../../../spokes/wheel.ts';
import { evenSides } from './evenSides.ts';

/** A wheel to start from: generic by kind, every figure to be checked against the wheel at hand. No maker's product. */
export interface StartingWheel {
  readonly id: string;
  readonly name: string;
  readonly gist: string;
  readonly make: (id: string, now: string) => Wheel;
}

/** Dimensions are ordinary ones of each kind. `common practice` */
interface Pattern {
  readonly count: number;
  readonly hub: Hub;
  readonly rim: Rim;
  readonly lacing: Lacing;
  readonly kindId: string;
  readonly nipple: Nipple;
}

const hub = (kind: Hub['kind'], left: readonly [number, number], right: readonly [number, number]): Hub => {
  const flange = ([circle, distance]: readonly [number, number]) => ({
    pitchCircleDiameterMm: circle,
    centreDistanceMm: distance,
    holeDiameterMm: kind === 'elbow' ? 2.6 : 0,
  });
  return { kind, left: flange(left), right: flange(right) };
};
const rim = (effectiveDiameterMm: number, material: Rim['material'], offsetMm = 0): Rim => ({
  effectiveDiameterMm,
  offsetMm,
  material,
});
const laced = (crossesLeft: number, crossesRight = crossesLeft, touching = true): Lacing => ({
  pattern: 'alternating',
  firstSide: 'left',
  left: { crosses: crossesLeft, touching: touching && crossesLeft > 0 },
  right: { crosses: crossesRight, touching: touching && crossesRight > 0 },
});

const alloy = NIPPLES['aluminium 12 mm'] ?? USUAL_NIPPLE;

function start(id: string, name: string, gist: string, p: Pattern): StartingWheel {
  return {
    id,
    name,
    gist,
    make: (wheelId, now) => {
      const kind = catalogueKind(p.kindId);
      const side = { kindId: kind.id, nipple: p.nipple };
      const layout: LacedLayout = { kind: 'laced', spokeCount: p.count, hub: p.hub, rim: p.rim, lacing: p.lacing };
      return { ...bare(wheelId, name, now), layout, kinds: { [kind.id]: kind }, sides: { left: side, right: side } };
    },
  };
}

const bare = (id: string, name: string, now: string) => ({
  id,
  name,
  createdAt: now,
  changedAt: now,
  kinds: {},
  targetPercent: 5,
  state: { tyre: 'off' as const },
  calibrations: [],
  rounds: [],
});

export const STARTING_WHEELS: readonly StartingWheel[] = [
  start('rear-32', 'Rear, 32 steel spokes, 3-cross', 'dished, spokes 2.0 / 1.8, alloy rim', {
    count: 32,
    hub: hub('elbow', [45, 36], [45, 19]),
    rim: rim(600, 'aluminium'),
    lacing: laced(3),
    kindId: '2.0-1.8',
    nipple: USUAL_NIPPLE,
  }),
  start('front-32', 'Front, 32 steel spokes, 3-cross', 'even sides, spokes 2.0 / 1.8, alloy rim', {
    count: 32,
    hub: hub('elbow', [38, 35], [38, 35]),
    rim: rim(600, 'aluminium'),
    lacing: laced(3),
    kindId: '2.0-1.8',
    nipple: USUAL_NIPPLE,
  }),
  start('front-radial', 'Front, 20 spokes, radial', 'bladed spokes, no crossing to hold', {
    count: 20,
    hub: hub('elbow', [38, 36], [38, 36]),
    rim: rim(570, 'aluminium'),
    lacing: laced(0),
    kindId: '2.0-blade-2.2x0.9',
    nipple: alloy,
  }),
  start('heavy-36', 'Rear, 36 steel spokes, 3-cross', 'plain 2.0 spokes, touring or cargo', {
    count: 36,
    hub: hub('elbow', [45, 34], [45, 21]),
    rim: rim(600, 'aluminium'),
    lacing: laced(3),
    kindId: 'plain-2.0',
    nipple: USUAL_NIPPLE,
  }),
  start('composite', 'Rear, 24 composite spokes, straight pull', '2-cross, offset rim, spokes that pass', {
    count: 24,
    hub: hub('straightPull', [50, 34], [50, 20]),
    rim: rim(560, 'composite', -2.5),
    lacing: laced(2, 2, false),
    kindId: 'composite-rod-2.6-steel',
    nipple: alloy,
  }),
  start('two-to-one', 'Rear, 21 bladed spokes, two to one', '14 right crossed, 7 left radial', {
    count: 21,
    hub: hub('straightPull', [40, 38], [50, 18]),
    rim: rim(575, 'aluminium'),
    lacing: { ...laced(0, 2), pattern: 'twoToOne', moreSide: 'right', firstSide: 'right' },
    kindId: '2.0-blade-2.2x0.9',
    nipple: alloy,
  }),
  start('small', 'Small wheel, 28 spokes, 2-cross', 'folding or child’s wheel, plain 2.0 spokes', {
    count: 28,
    hub: hub('elbow', [38, 34], [38, 34]),
    rim: rim(390, 'aluminium'),
    lacing: laced(2),
    kindId: 'plain-2.0',
    nipple: USUAL_NIPPLE,
  }),
];

export const EVENNESS_START: StartingWheel = {
  id: 'evenness',
  name: 'Evenness only',
  gist: 'spoke count and sides are enough; no tension in newtons',
  make: (id, now) => ({
    ...bare(id, 'Evenness of a wheel', now),
    layout: { kind: 'evenness', sides: evenSides(32, 'alternating', 'left', 'left') ?? [] },
  }),
};
