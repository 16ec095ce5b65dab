import type { LaidSpoke } from './laidSpoke.ts';
import { layLaced } from './layLaced.ts';
import { layListed, laySides } from './layListed.ts';
import type { LayoutRefusal } from './layoutRefusal.ts';
import type { Layout } from './wheel.ts';

/** The spokes of a wheel in order, or the field that stands in the way. */
export type Laid = { readonly ok: true; readonly spokes: readonly LaidSpoke[] } | LayoutRefusal;

/** Lays a wheel out as a list of spokes, whichever of the three ways it was described in. */
export function expandLayout(layout: Layout): Laid {
  const known = remembered.get(layout) ?? lay(layout);
  remembered.set(layout, known);
  return known;
}

/** A layout is laid out once; a changed one is another object. */
const remembered = new WeakMap<Layout, Laid>();

function lay(layout: Layout): Laid {
  switch (layout.kind) {
    case 'laced':
      return layLaced(layout);
    case 'list':
      return layListed(layout);
    case 'evenness':
      return laySides(layout.sides);
  }
}
