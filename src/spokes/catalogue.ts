import { type MaterialName, materialNamed } from './materials.ts';
import type { KindSection, Layer, Shape, SpokeKind } from './wheel.ts';

/** Thick ends of a butted spoke, hub and rim, with the taper shared out. `common practice`: 20–30 mm each */
const HUB_BUTT_MM = 20;
const RIM_BUTT_MM = 25;

const layer = (shape: Shape, material: MaterialName): Layer => ({ shape, material: materialNamed(material) });
const round = (diameterMm: number): Shape => ({ form: 'round', diameterMm });
const piece = (name: string, lengthMm: number | 'rest', ...layers: readonly Layer[]): KindSection => ({
  name,
  lengthMm,
  layers,
});

const figure = (value: number): string => value.toFixed(value * 10 === Math.round(value * 10) ? 1 : 2);

function plain(diameterMm: number, material: MaterialName): SpokeKind {
  const titanium = material === 'titanium 6Al-4V' ? ' titanium' : '';
  return {
    id: `plain-${figure(diameterMm)}${titanium ? '-titanium' : ''}`,
    name: `plain ${figure(diameterMm)}${titanium}`,
    sections: [piece('wire', 'rest', layer(round(diameterMm), material))],
    source: 'dimensions in the name; common practice',
  };
}

function butted(hubMm: number, middleMm: number, rimMm: number, middle?: Shape): SpokeKind {
  const wire = 'stainless steel wire';
  const shape = middle ?? round(middleMm);
  const drawn =
    shape.form === 'round'
      ? figure(middleMm)
      : `blade ${'widthMm' in shape ? `${figure(shape.widthMm)}×${figure(shape.thicknessMm)}` : ''}`;
  const name = hubMm === rimMm ? `${figure(hubMm)} / ${drawn}` : `${figure(hubMm)} / ${drawn} / ${figure(rimMm)}`;
  return {
    id: name.replaceAll(' / ', '-').replaceAll(' ', '-').replaceAll('×', 'x'),
    name,
    sections: [
      piece('hub end', HUB_BUTT_MM, layer(round(hubMm), wire)),
      piece(shape.form === 'round' ? 'middle' : 'blade', 'rest', layer(shape, wire)),
      piece('rim end', RIM_BUTT_MM, layer(round(rimMm), wire)),
    ],
    source: 'dimensions in the name, ends 20 and 25 mm; common practice. A weighed spoke settles the middle.',
  };
}

/** A blade is rolled from its round wire: rounded edges, between a rectangle and an ellipse. Weighing decides. */
const blade = (widthMm: number, thicknessMm: number): Shape => ({ form: 'flat', widthMm, thicknessMm });

function composite(
  id: string,
  name: string,
  rod: Shape,
  ends: { readonly metal: MaterialName; readonly sleeveMm: number; readonly lengthMm: number },
): SpokeKind {
  const boreMm = rod.form === 'round' ? rod.diameterMm : 2;
  const end = (where: string): KindSection =>
    piece(
      where,
      ends.lengthMm,
      layer({ form: 'tube', outerMm: ends.sleeveMm, innerMm: boreMm }, ends.metal),
      layer(round(boreMm), 'carbon fibre, along the fibre'),
    );
  const steel = layer(round(2.2), 'stainless steel wire');
  return {
    id,
    name,
    sections: [
      piece('hub head', 6, steel),
      end('hub sleeve'),
      piece('rod', 'rest', layer(rod, 'carbon fibre, along the fibre')),
      end('rim sleeve'),
      piece('rim thread', 12, steel),
    ],
    source:
      'a generic build of our own: carbon-fibre rod bonded into metal sleeves. Measure the sleeves and weigh a spoke.',
    head: 'straight',
  };
}

/**
 * Generic spoke kinds, by dimension and material only; no maker's product. Every dimension is meant to be edited, and a weighed
 * spoke is better than any of them.
 */
export const CATALOGUE: readonly SpokeKind[] = [
  plain(1.8, 'stainless steel wire'),
  plain(2.0, 'stainless steel wire'),
  plain(2.3, 'stainless steel wire'),
  plain(2.6, 'stainless steel wire'),
  butted(2.0, 1.8, 2.0),
  butted(2.0, 1.7, 2.0),
  butted(2.0, 1.6, 2.0),
  butted(2.0, 1.5, 2.0),
  butted(1.8, 1.6, 1.8),
  butted(1.8, 1.5, 1.8),
  butted(2.3, 2.0, 2.0),
  butted(2.3, 1.8, 2.0),
  butted(2.0, 0, 2.0, blade(2.2, 0.9)),
  butted(2.0, 0, 2.0, blade(2.2, 1.2)),
  butted(2.0, 0, 2.0, blade(2.6, 1.2)),
  butted(2.0, 0, 2.0, blade(3.2, 1.0)),
  plain(2.0, 'titanium 6Al-4V'),
  composite('composite-rod-2.6-steel', 'composite rod 2.6, steel ends', round(2.6), {
    metal: 'stainless steel wire',
    sleeveMm: 3.6,
    lengthMm: 25,
  }),
  composite('composite-rod-2.6-aluminium', 'composite rod 2.6, aluminium ends', round(2.6), {
    metal: 'aluminium 7075-T6',
    sleeveMm: 4.2,
    lengthMm: 30,
  }),
  composite('composite-blade-3.5x1.4-titanium', 'composite blade 3.5×1.4, titanium ends', blade(3.5, 1.4), {
    metal: 'titanium 6Al-4V',
    sleeveMm: 4.0,
    lengthMm: 25,
  }),
];

/** The kind of the catalogue with this id. @throws RangeError if there is none: ids of the catalogue are code, not input. */
export function catalogueKind(id: string): SpokeKind {
  const kind = CATALOGUE.find((one) => one.id === id);
  if (kind === undefined)
    throw new RangeError(`catalogue kind ${id}: expected one of ${CATALOGUE.map((one) => one.id).join(', ')}`);
  return kind;
}
