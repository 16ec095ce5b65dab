import { pointerKey } from './atPath.ts';
import type { FigureField } from './figureField.ts';

type Side = 'left' | 'right';

/** Bounds are those of any wheel that can be built; an absurd figure is a slip of the finger. */
export const SPOKE_COUNT: FigureField = {
  path: 'layout.spokeCount',
  label: 'Spokes',
  quantity: 'whole',
  low: 4,
  high: 144,
  effect: 'Sets every spoke’s direction, and with it length and crossing.',
};

export const RIM_DIAMETER: FigureField = {
  path: 'layout.rim.effectiveDiameterMm',
  label: 'Effective rim diameter',
  quantity: 'length',
  low: 150,
  high: 800,
  effect: 'Between opposite nipple seats. Half of an error goes into the length of every spoke.',
};

export const RIM_OFFSET: FigureField = {
  path: 'layout.rim.offsetMm',
  label: 'Rim offset, to the right',
  quantity: 'length',
  low: -15,
  high: 15,
  effect: 'Of the spoke holes from the rim’s middle. Moves the expected ratio of the sides; hardly any tension.',
};

export const TARGET: FigureField = {
  path: 'targetPercent',
  label: 'Evenness target ±',
  quantity: 'percent',
  low: 0.5,
  high: 50,
  effect: 'Of the side’s mean. 5 % is common practice for a good wheel, 2 % is very even.',
};

export const PAIR_SPACING: FigureField = {
  path: 'layout.lacing.pairSpacingMm',
  label: 'Distance of a pair at the rim',
  quantity: 'length',
  low: 1,
  high: 150,
};

export const MORE_COUNT: FigureField = {
  path: 'layout.lacing.moreCount',
  label: 'Spokes on the fuller side',
  quantity: 'whole',
  low: 3,
  high: 143,
  optional: true,
  effect: 'Only where the count does not divide by three.',
};

export const crosses = (side: Side): FigureField => ({
  path: `layout.lacing.${side}.crosses`,
  label: `Crosses, ${side}`,
  quantity: 'whole',
  low: 0,
  high: 12,
  effect: '0 is radial. Sets where the outermost crossing lies.',
});

export const pitchCircle = (side: Side): FigureField => ({
  path: `layout.hub.${side}.pitchCircleDiameterMm`,
  label: `Spoke circle, ${side}`,
  quantity: 'length',
  low: 5,
  high: 300,
  effect: 'Diameter through the spoke holes.',
});

export const centreDistance = (side: Side): FigureField => ({
  path: `layout.hub.${side}.centreDistanceMm`,
  label: `Centre to flange, ${side}`,
  quantity: 'length',
  low: -20,
  high: 90,
  effect: 'From the middle of the hub. Sets the expected ratio of the sides.',
});

export const holeDiameter = (side: Side): FigureField => ({
  path: `layout.hub.${side}.holeDiameterMm`,
  label: `Flange hole, ${side}`,
  quantity: 'length',
  low: 1,
  high: 6,
  effect: 'Half of it comes off the length.',
});

export const headOffset = (side: Side): FigureField => ({
  path: `layout.hub.${side}.headOffsetMm`,
  label: `Head seat beyond the nearest point, ${side}`,
  quantity: 'length',
  low: -60,
  high: 60,
  optional: true,
  effect: 'Along the spoke towards the rim; comes off its length.',
});

export const nippleExposed = (side: Side): FigureField => ({
  path: `sides.${side}.nipple.exposedMm`,
  label: `Nipple in sight, ${side}`,
  quantity: 'length',
  low: 0,
  high: 40,
  effect: 'It rings with the spoke as a stiff, heavy end.',
});

export const measuredLength = (side: Side): FigureField => ({
  path: `sides.${side}.measured.supportLengthMm.value`,
  label: `Hub support to nipple seat, ${side}`,
  quantity: 'length',
  low: 30,
  high: 450,
  optional: true,
});

export const measuredCrossing = (side: Side): FigureField => ({
  path: `sides.${side}.measured.crossingToRimMm.value`,
  label: `Crossing to nipple seat, ${side}`,
  quantity: 'length',
  low: 30,
  high: 450,
  optional: true,
});

export const maximum = (side: Side): FigureField => ({
  path: `sides.${side}.limits.maximumN`,
  label: `Maximum, ${side}`,
  quantity: 'tension',
  low: 100,
  high: 3000,
  optional: true,
});

export const minimum = (side: Side): FigureField => ({
  path: `sides.${side}.limits.minimumN`,
  label: `Minimum, ${side}`,
  quantity: 'tension',
  low: 10,
  high: 3000,
  optional: true,
});

export const PRESSURE = (path: string): FigureField => ({
  path,
  label: 'Tyre pressure',
  quantity: 'pressure',
  low: 0,
  high: 15,
  optional: true,
});

export const TEMPERATURE: FigureField = {
  path: 'state.temperatureC',
  label: 'Temperature now',
  quantity: 'temperature',
  low: -30,
  high: 60,
  optional: true,
  effect: 'Warmth moves tension where spoke and rim expand differently.',
};

export const weighedMass = (kindId: string): FigureField => ({
  path: `/kinds/${pointerKey(kindId)}/weighed/massG`,
  label: 'A loose spoke weighs',
  quantity: 'mass',
  low: 0.5,
  high: 60,
  optional: true,
  effect: '1 % here is about 1 % of tension. Weigh ten together and divide.',
});

export const weighedLength = (kindId: string): FigureField => ({
  path: `/kinds/${pointerKey(kindId)}/weighed/lengthMm`,
  label: 'and is this long',
  quantity: 'length',
  low: 30,
  high: 450,
  optional: true,
});

/** Of a section that has a length of its own. */
export const sectionLength = (kindId: string, index: number, name: string): FigureField => ({
  path: `/kinds/${pointerKey(kindId)}/sections/${index}/lengthMm`,
  label: `Length of the ${name}`,
  quantity: 'length',
  low: 1,
  high: 400,
});

const SURE = {
  lengthMm: { label: 'Length between supports', quantity: 'length', high: 20 },
  crossingMm: { label: 'Place of the crossing', quantity: 'length', high: 20 },
  sectionsMm: { label: 'Where its sections meet', quantity: 'length', high: 20 },
  massPercent: { label: 'Mass per length', quantity: 'percent', high: 20 },
  stiffnessPercent: { label: 'Bending stiffness', quantity: 'percent', high: 50 },
} as const;
export type Sureness = keyof typeof SURE;
export const SURENESS = Object.keys(SURE) as readonly Sureness[];

/** One of the standard uncertainties of a side's description. */
export const sureness = (side: Side, name: Sureness): FigureField => ({
  ...SURE[name],
  path: `sides.${side}.uncertainty.${name}`,
  label: `${SURE[name].label} ±, ${side}`,
  low: 0,
  optional: true,
});

/** Of one spoke of a list. */
export const listedSpoke = (index: number) => {
  const at = (field: string) => `layout.spokes.${index}.${field}`;
  return {
    length: {
      path: at('supportLengthMm'),
      label: 'Hub support to nipple seat',
      quantity: 'length',
      low: 30,
      high: 450,
    },
    crossing: {
      path: at('crossingFromHubMm'),
      label: 'Hub support to crossing',
      quantity: 'length',
      low: 1,
      high: 450,
      optional: true,
      effect: 'Of the outermost crossing where it touches another. Empty: it touches none.',
    },
    partner: {
      path: at('crossingPartner'),
      label: 'It touches spoke',
      quantity: 'whole',
      low: 1,
      high: 144,
      optional: true,
    },
    angle: {
      path: at('rimAngleDeg'),
      label: 'Angle from the valve hole',
      quantity: 'angle',
      low: 0,
      high: 360,
      optional: true,
      effect: 'Clockwise, seen from the right. For the drawing; empty: evenly spaced.',
    },
    bracing: {
      path: at('bracingAngleDeg'),
      label: 'Angle to the wheel’s plane',
      quantity: 'angle',
      low: -30,
      high: 30,
      optional: true,
      effect: 'Towards its flange. For the ratio of the sides alone.',
    },
  } as const satisfies Readonly<Record<string, FigureField>>;
};
