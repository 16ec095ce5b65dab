import { catalogueKind } from '../../../spokes/catalogue.ts';
import { NIPPLES, USUAL_NIPPLE } from '../../../spokes/nipples.ts';
import type { LacedLayout, Lacing, Nipple, Rim, Wheel } from '../../../spokes/wheel.ts';
import { evenSides } from './evenSides.ts';

/** A wheel to start from: generic by kind, every figure to be checked against the wheel at hand. No maker's product. */
export interface StartingWheel {
  readonly id: string;
  readonly name: string;
  readonly gist: string;
  readonly make: (id: string, now: string) => Wheel;
}

/** Spoke circle's diameter, and centre to flange, mm. */
type Flange = readonly [circle: number, distance: number];
type Dimensions = readonly [
  spokes: number,
  left: Flange,
  right: Flange,
  rim: number,
  crosses: readonly [left: number, right: number],
  kind: string,
];
/** What is out of the ordinary. */
interface More {
  readonly hub?: 'straightPull';
  readonly material?: Rim['material'];
  readonly offset?: number;
  /** Crossed spokes pass each other without touching. */
  readonly passing?: true;
  readonly pattern?: Pick<Lacing, 'pattern' | 'moreSide' | 'firstSide'>;
  readonly nipple?: Nipple;
}

const ALLOY = NIPPLES['aluminium 12 mm'] ?? USUAL_NIPPLE;
const TWO_TO_ONE = { pattern: 'twoToOne', moreSide: 'right', firstSide: 'right' } as const;

/** Ordinary dimensions of each kind of wheel. `common practice` */
const ROWS: readonly (readonly [id: string, name: string, gist: string, Dimensions, More?])[] = [
  [
    'rear-32',
    'Rear, 32 steel spokes, 3-cross',
    'dished, spokes 2.0\u00a0/\u00a01.8, alloy rim',
    [32, [45, 36], [45, 19], 600, [3, 3], '2.0-1.8'],
  ],
  [
    'front-32',
    'Front, 32 steel spokes, 3-cross',
    'even sides, spokes 2.0\u00a0/\u00a01.8, alloy rim',
    [32, [38, 35], [38, 35], 600, [3, 3], '2.0-1.8'],
  ],
  [
    'front-radial',
    'Front, 20 spokes, radial',
    'bladed spokes, no crossing to hold',
    [20, [38, 36], [38, 36], 570, [0, 0], '2.0-blade-2.2x0.9'],
    { nipple: ALLOY },
  ],
  [
    'heavy-36',
    'Rear, 36 steel spokes, 3-cross',
    'plain 2.0 spokes, touring or cargo',
    [36, [45, 34], [45, 21], 600, [3, 3], 'plain-2.0'],
  ],
  [
    'composite',
    'Rear, 24 composite spokes, straight pull',
    '2-cross, offset rim, spokes that cross untouched',
    [24, [50, 34], [50, 20], 560, [2, 2], 'composite-rod-2.6-steel'],
    { hub: 'straightPull', material: 'composite', offset: -2.5, passing: true, nipple: ALLOY },
  ],
  [
    'two-to-one',
    'Rear, 21 bladed spokes, two to one',
    '14 right crossed, 7 left radial',
    [21, [40, 38], [50, 18], 575, [0, 2], '2.0-blade-2.2x0.9'],
    { hub: 'straightPull', pattern: TWO_TO_ONE, nipple: ALLOY },
  ],
  [
    'small',
    'Small wheel, 28 spokes, 2-cross',
    'folding or child’s wheel, plain 2.0 spokes',
    [28, [38, 34], [38, 34], 390, [2, 2], 'plain-2.0'],
  ],
];

function layoutOf([spokeCount, left, right, rim, crosses]: Dimensions, more: More): LacedLayout {
  const kind = more.hub ?? 'elbow';
  const flange = ([circle, distance]: Flange) => ({
    pitchCircleDiameterMm: circle,
    centreDistanceMm: distance,
    holeDiameterMm: kind === 'elbow' ? 2.6 : 0,
  });
  const side = (count: number) => ({ crosses: count, touching: count > 0 && more.passing !== true });
  return {
    kind: 'laced',
    spokeCount,
    hub: { kind, left: flange(left), right: flange(right) },
    rim: { effectiveDiameterMm: rim, offsetMm: more.offset ?? 0, material: more.material ?? 'aluminium' },
    lacing: {
      pattern: 'alternating',
      firstSide: 'left',
      left: side(crosses[0]),
      right: side(crosses[1]),
      ...more.pattern,
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

/** `Rear wheel`: of what the person changes next, such as the count, a name must not say what it was. */
function placeName(name: string): string {
  const [place = name] = name.split(',');
  return place.endsWith('wheel') ? place : `${place} wheel`;
}

export const STARTING_WHEELS: readonly StartingWheel[] = ROWS.map(([id, name, gist, dimensions, more = {}]) => ({
  id,
  name,
  gist,
  make: (wheelId, now) => {
    const kind = catalogueKind(dimensions[5]);
    const side = { kindId: kind.id, nipple: more.nipple ?? USUAL_NIPPLE };
    const layout = layoutOf(dimensions, more);
    return {
      ...bare(wheelId, placeName(name), now),
      layout,
      kinds: { [kind.id]: kind },
      sides: { left: side, right: side },
    };
  },
}));

export const EVENNESS_START: StartingWheel = {
  id: 'evenness',
  name: 'Evenness only',
  gist: 'spoke count and sides are enough; no tension in newtons',
  make: (id, now) => ({
    ...bare(id, 'Evenness of a wheel', now),
    layout: { kind: 'evenness', sides: evenSides(32, 'alternating', 'left', 'left') ?? [] },
  }),
};
