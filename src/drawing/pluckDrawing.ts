import { arrowHead, circle, group, line, type Point, path, sheet, text } from './shapes.ts';
import { element, type SvgNode } from './svg.ts';

export interface PluckOptions {
  readonly label: string;
  /** The hand that plucks; the other holds the crossing. */
  readonly hand: 'right' | 'left';
  /** `held`: hold the crossing; `none`: nothing to hold, the spoke touches no other. */
  readonly crossing: 'held' | 'none';
  readonly direction: 'inPlane' | 'across';
}

/** Legible at arm's length on the narrowest phone, where the sheet is two thirds as wide. */
const LETTER = 24;

const CROSS: Point = { x: 190, y: 170 };

/**
 * How to pluck: the spoke's long part, the finger's way along the rim (or across it, where the spoke asks for that), the other hand on the crossing.
 * Mirrored for a left hand; the lettering is not.
 */
export function pluckDrawing(options: PluckOptions): SvgNode {
  const mirrored = options.hand === 'left';
  const crossed = options.crossing === 'held';
  const top: Point = { x: 240, y: 42 };
  const hub: Point = crossed ? { x: 165, y: 238 } : { x: 222, y: 238 };
  const pluckAt: Point = crossed ? { x: 219, y: 96 } : { x: 232, y: 130 };
  const textY = crossed ? 128 : 164;
  const mx = (p: Point): Point => (mirrored ? { x: 400 - p.x, y: p.y } : p);
  const words = (at: Point, what: string, where: readonly string[], beside: 'start' | 'end') => {
    const anchor = (beside === 'start') === mirrored ? 'end' : 'start';
    return [
      text(mx(at), what, 'letter strong', anchor, LETTER + 2),
      ...where.map((line, i) => text(mx({ x: at.x, y: at.y + LETTER * (i + 1) }), line, 'letter', anchor, LETTER)),
    ];
  };
  return sheet(
    400,
    260,
    options.label,
    element(
      'g',
      mirrored ? { transform: 'translate(400 0) scale(-1 1)' } : {},
      group('rim', path('M20 62Q200 18 380 62', 'outline'), path('M24 46Q200 2 376 46', 'outline')),
      group('hub', path('M120 262Q200 214 280 262', 'outline'), circle({ x: hub.x, y: hub.y }, 3, 'solid')),
      crossed && group('partner', line({ x: 122, y: 48 }, { x: 232, y: 240 }, 'outline')),
      line(hub, top, 'accent'),
      element('rect', {
        x: top.x - 5,
        y: top.y - 2,
        width: 9,
        height: 20,
        class: 'metal',
        transform: `rotate(14 ${top.x} ${top.y})`,
      }),
      crossed && holdingFingers(CROSS),
      options.direction === 'inPlane' ? alongRim(pluckAt) : acrossRim(pluckAt),
      pluckingFinger(pluckAt),
    ),
    ...words(
      { x: 262, y: textY },
      'pluck',
      options.direction === 'inPlane' ? ['along', 'the rim'] : ['towards', 'you'],
      'start',
    ),
    ...(crossed ? words({ x: 117, y: 172 }, 'hold', ['the', 'crossing'], 'end') : []),
    text(mx({ x: 28, y: 92 }), 'rim', 'letter', mirrored ? 'end' : 'start', LETTER),
    text(mx({ x: 110, y: 252 }), 'hub', 'letter', mirrored ? 'start' : 'end', LETTER),
  );
}

/** Thumb and forefinger closed on the crossing from the side. */
const holdingFingers = (at: Point): SvgNode =>
  group(
    'holding hand',
    path(`M${at.x - 66} ${at.y - 22}q34 -12 66 4q16 8 12 18q-6 8 -20 2q-24 -10 -58 2z`, 'hand'),
    path(`M${at.x - 66} ${at.y + 24}q34 10 62 -6q14 -8 10 -17q-8 -7 -20 0q-22 10 -52 3z`, 'hand'),
  );

/** A fingertip that hooks the spoke. */
const pluckingFinger = (at: Point): SvgNode =>
  path(`M${at.x + 84} ${at.y - 26}q-44 -6 -70 12q-16 10 -14 20q6 8 18 0q24 -14 66 -8z`, 'hand');

const alongRim = (at: Point): SvgNode => {
  const to = { x: at.x - 74, y: at.y + 4 };
  return group(
    'way',
    line({ x: at.x - 6, y: at.y }, { x: to.x + 10, y: to.y }, 'bold'),
    arrowHead(at, to, 'arrow', 18),
  );
};

/** Out of the wheel's plane: seen head on, a ring with a dot, as drawings show an arrow that comes towards the eye. */
const acrossRim = (at: Point): SvgNode =>
  group('way', circle({ x: at.x - 32, y: at.y }, 13, 'mark open'), circle({ x: at.x - 32, y: at.y }, 4, 'solid'));
