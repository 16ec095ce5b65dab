import type { Wheel } from '../../../spokes/wheel.ts';
import { getAt } from './atPath.ts';
import * as fields from './fields.ts';
import { type FigureField, showWithUnit, type Units } from './figureField.ts';

/** One figure of a description that is not the same in two of them, as its field shows it. */
export interface ChangedFigure {
  readonly path: string;
  readonly label: string;
  readonly before: string;
  readonly after: string;
}

/** What may stand where nothing was given. */
const NONE = 'not given';

/** Chosen or written instead of counted. */
const WORDS: Readonly<Record<string, string>> = {
  name: 'Name',
  'layout.kind': 'Described',
  'layout.hub.kind': 'Hub',
  'layout.rim.material': 'Rim material',
  'layout.rim.stiffnessClass': 'Rim stiffness',
  'layout.lacing.pattern': 'Pattern',
  'layout.lacing.firstSide': 'Side of spoke 1',
  'state.tyre': 'Tyre',
  ...Object.fromEntries(
    (['left', 'right'] as const).flatMap((side) => [
      [`sides.${side}.kindId`, `Spokes, ${side}`],
      [`sides.${side}.nipple.kind`, `Nipple, ${side}`],
      [`sides.${side}.limits.source`, `Source of the limits, ${side}`],
    ]),
  ),
};

/** Words that a wheel keeps as codes. */
const SPOKEN: Readonly<Record<string, string>> = {
  laced: 'by its lacing',
  list: 'spoke by spoke',
  elbow: 'bent spokes',
  straightPull: 'straight pull',
  alternating: 'left, right, left …',
  paired: 'in pairs',
  twoToOne: 'two to one',
  unknown: 'not known',
};

const bothSides = (field: (side: 'left' | 'right') => FigureField) => [field('left'), field('right')];
const FIGURES: readonly FigureField[] = [
  fields.SPOKE_COUNT,
  fields.MORE_COUNT,
  fields.PAIR_SPACING,
  ...bothSides(fields.crosses),
  fields.RIM_DIAMETER,
  ...bothSides(fields.pitchCircle),
  ...bothSides(fields.centreDistance),
  ...bothSides(fields.holeDiameter),
  ...bothSides(fields.headOffset),
  fields.RIM_OFFSET,
  ...bothSides(fields.nippleExposed),
  ...bothSides(fields.measuredLength),
  ...bothSides(fields.measuredCrossing),
  ...fields.SURENESS.flatMap((name) => bothSides((side) => fields.sureness(side, name))),
  ...bothSides(fields.minimum),
  ...bothSides(fields.maximum),
  fields.TARGET,
  fields.PRESSURE('state.pressureBar'),
  fields.TEMPERATURE,
];

/** What differs between two states of a wheel's description, in the order of the form. */
export function changedFigures(before: Wheel, after: Wheel, units: Units): readonly ChangedFigure[] {
  const words = Object.entries(WORDS).map(([path, label]) => ({
    path,
    label,
    show: (value: unknown) =>
      value === undefined ? NONE : path.endsWith('kindId') ? kindName(after, value) : spoken(value),
  }));
  const figures = [...FIGURES, ...weighed(after)].map((field) => ({
    path: field.path,
    label: field.label,
    show: (value: unknown) => (typeof value === 'number' ? showWithUnit(value, field.quantity, units) : NONE),
  }));
  return [...words, ...figures].flatMap(({ path, label, show }) => {
    const [was, is] = [getAt(before, path), getAt(after, path)];
    return was === is ? [] : [{ path, label, before: show(was), after: show(is) }];
  });
}

const spoken = (value: unknown): string => SPOKEN[`${value}`] ?? `${value}`;

const kindName = (wheel: Wheel, id: unknown): string => wheel.kinds[`${id}`]?.name ?? `${id}`;

const weighed = (wheel: Wheel): readonly FigureField[] =>
  Object.keys(wheel.kinds).flatMap((id) => [fields.weighedMass(id), fields.weighedLength(id)]);

/** More than these are counted only: a message is read on a phone. */
const MOST_TOLD = 4;

/** The same as a sentence's end: `Crosses, left: 3, now 2`, or `Crosses, left: 2 here, 3 there`. */
export function changesText(changes: readonly ChangedFigure[], as: 'now' | 'hereAndThere'): string {
  const told = changes
    .slice(0, MOST_TOLD)
    .map(({ label, before, after }) =>
      as === 'now' ? `${label}: ${before}, now ${after}` : `${label}: ${after} here, ${before} there`,
    );
  const more = changes.length - told.length;
  return [...told, ...(more > 0 ? [`and ${more} more`] : [])].join('; ');
}
