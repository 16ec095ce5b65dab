import { arc, arrowHead, atAngle, circle, group, line, type Point, rectangle, sheet, text } from './shapes.ts';
import { markPlace, stateMark } from './stateMark.ts';
import { element, type SvgNode } from './svg.ts';
import type { SpokePicture, WheelPicture } from './wheelPicture.ts';

export interface WheelDrawingOptions {
  /** The spoke to pluck: drawn thick, with its number in a flag at the rim. */
  readonly currentSpoke?: number;
  /** Number the spokes that carry a judgement other than in order. */
  readonly numberFlagged?: boolean;
  /** Lettering in drawing units; the sheet is 400 wide. 0: none, for a picture too small to be read. */
  readonly letterSize?: number;
  /** The sentence that says what the drawing shows. */
  readonly label: string;
}

const CENTRE: Point = { x: 200, y: 200 };
const RIM = 134;
const RIM_DEPTH = 9;
/** Half width of a spoke's mark, at most, and by how much one off the rim stands farther out or in. */
const MARK = 8;
const OFF_RIM = 15;
/** A square's corner over its half width. */
const CORNER = 1.2;
/** Between a number and the mark or the rim that it belongs to. */
const CLEAR = 2;
/** Half of a bold digit's width, and of its height, over the size of the letters; the widest of the faces that it may be set in. */
const HALF_DIGIT = 0.35;
const HALF_HEIGHT = 0.37;
/** Two digits of it fit between a mark and the sheet's edge. */
const LARGEST_NUMBER = 24;
const UNKNOWN_HUB = 0.1;
/** Radius of the flag over its letters: two digits fit. */
const FLAG_SHARE = 0.78;
/** Half of the word's width over the size of its letters, in the widest of the faces that it may be set in. */
const HALF_VALVE = 1.35;

/**
 * The wheel as it is laced, seen from the right, valve hole on top: both flanges, every spoke in its true direction, touching crossings,
 * and each spoke's state at its rim end by shape and place. Right spokes are drawn in full lines, left ones, behind the hub, in broken lines.
 * @param wheel angles in radians from the valve hole, lengths in metres
 */
export function wheelDrawing(wheel: WheelPicture, options: WheelDrawingOptions): SvgNode {
  const perMetre = wheel.rimRadius === undefined ? undefined : RIM / wheel.rimRadius;
  const size = options.letterSize ?? 20;
  const current = wheel.spokes.find((spoke) => spoke.number === options.currentSpoke);
  const others = wheel.spokes.filter((spoke) => spoke !== current);
  const hubEnd = (spoke: SpokePicture): Point =>
    spoke.hub !== undefined && perMetre !== undefined
      ? atAngle(CENTRE, spoke.hub.radius * perMetre, spoke.hub.angle)
      : atAngle(CENTRE, RIM * UNKNOWN_HUB, spoke.rimAngle);
  const rimEnd = (spoke: SpokePicture): Point => atAngle(CENTRE, RIM, spoke.rimAngle);
  const flange = (radius: number | undefined): number =>
    radius !== undefined && perMetre !== undefined ? radius * perMetre : RIM * UNKNOWN_HUB;
  const left = flange(wheel.leftFlangeRadius);
  const right = flange(wheel.rightFlangeRadius);
  const flags = options.numberFlagged === true ? wheel.spokes.filter((spoke) => markPlace[spoke.mark] !== 0) : [];

  return sheet(
    400,
    400,
    options.label,
    group(
      'axes',
      line({ x: 8, y: 200 }, { x: 392, y: 200 }, 'centre'),
      line({ x: 200, y: 44 }, { x: 200, y: 392 }, 'centre'),
    ),
    group('rim', circle(CENTRE, RIM + RIM_DEPTH, 'outline'), circle(CENTRE, RIM, 'thin'), valve()),
    group(
      'left side',
      others.filter((s) => s.side === 'left').map((s) => spokeLine(s, hubEnd(s), rimEnd(s), 'hidden')),
    ),
    group(
      'hub',
      circle(CENTRE, left === right ? left - 3 : left, 'hidden'),
      circle(CENTRE, right, 'outline'),
      circle(CENTRE, 4, 'solid'),
    ),
    group(
      'right side',
      others.filter((s) => s.side === 'right').map((s) => spokeLine(s, hubEnd(s), rimEnd(s), 'outline')),
    ),
    group(
      'crossings',
      wheel.spokes.map((s) => crossing(s, hubEnd(s), rimEnd(s))),
    ),
    current && group('current', spokeLine(current, hubEnd(current), rimEnd(current), 'accent')),
    group(
      'states',
      wheel.spokes.map((s) => rimMark(s, wheel.spokes.length)),
    ),
    flags.filter((s) => s !== current).map((s) => numberAt(s, Math.min(size * 0.85, LARGEST_NUMBER))),
    size > 0 && showsCounting(current) && !wheel.spokes.some(standsAtValve) && counting(size),
    current && flag(current, size),
  );
}

function spokeLine(spoke: SpokePicture, hub: Point, rim: Point, className: string): SvgNode {
  return element('line', { x1: hub.x, y1: hub.y, x2: rim.x, y2: rim.y, class: className, 'data-spoke': spoke.number });
}

function crossing(spoke: SpokePicture, hub: Point, rim: Point): SvgNode | undefined {
  if (spoke.crossingShare === undefined) return undefined;
  const share = spoke.crossingShare;
  return circle({ x: hub.x + (rim.x - hub.x) * share, y: hub.y + (rim.y - hub.y) * share }, 2.2, 'solid');
}

function rimMark(spoke: SpokePicture, count: number): SvgNode {
  const size = Math.min(MARK, (Math.PI * RIM) / count / 1.5);
  const at = atAngle(CENTRE, RIM + 4 + markPlace[spoke.mark] * OFF_RIM, spoke.rimAngle);
  return element(
    'g',
    { class: `state ${spoke.mark}`, 'data-spoke': spoke.number },
    ...stateMark(spoke.mark, at, spoke.rimAngle, size),
  );
}

/** Outside its mark, or outside the rim where the mark stands inside; clear of it at every angle. */
function numberAt(spoke: SpokePicture, size: number): SvgNode {
  const number = String(spoke.number);
  const edge = markPlace[spoke.mark] > 0 ? RIM + 4 + OFF_RIM + CORNER * MARK : RIM + RIM_DEPTH;
  const [halfWidth, halfHeight] = [number.length * size * HALF_DIGIT, size * HALF_HEIGHT];
  const reach = halfWidth * Math.abs(Math.sin(spoke.rimAngle)) + halfHeight * Math.abs(Math.cos(spoke.rimAngle));
  const at = atAngle(CENTRE, edge + CLEAR + reach, spoke.rimAngle);
  return text({ x: at.x, y: at.y + size * 0.36 }, number, 'letter strong', 'middle', size);
}

function flag(spoke: SpokePicture, size: number): SvgNode {
  const radius = size * FLAG_SHARE;
  // Whole on the sheet, whatever the place.
  const at = atAngle(CENTRE, CENTRE.x - 1 - radius, spoke.rimAngle);
  const tip = atAngle(CENTRE, RIM + 4, spoke.rimAngle);
  const number = String(spoke.number);
  const letters = number.length > 2 ? size * 0.75 : size;
  return group(
    'flag',
    circle(at, radius, 'accent-fill'),
    arrowHead(at, tip, 'accent-fill', 18),
    text({ x: at.x, y: at.y + letters * 0.36 }, number, 'letter on-accent', 'middle', letters),
  );
}

/** The valve, its stem pointing inwards from the rim. */
const valve = (): SvgNode =>
  group(
    'valve',
    rectangle(200 - 3, 200 - RIM - 2, 6, 20, 'metal'),
    rectangle(200 - 2, 200 - RIM + 18, 4, 6, 'solid'),
    circle({ x: 200, y: 200 - RIM - RIM_DEPTH / 2 }, 3.4, 'solid'),
  );

const nearValve = ({ rimAngle }: SpokePicture): boolean => rimAngle <= 0.45 || rimAngle >= 2 * Math.PI - 0.45;

/** Near the valve the flag of the current spoke takes the room of the lettering. */
const showsCounting = (current: SpokePicture | undefined): boolean => current === undefined || !nearValve(current);

/** So does a spoke that is marked outwards there. */
const standsAtValve = (spoke: SpokePicture): boolean => markPlace[spoke.mark] > 0 && nearValve(spoke);

/** Names the valve and shows with an arrow which way the places are counted. */
function counting(size: number): SvgNode {
  const letters = size * 0.85;
  const radius = RIM + 50;
  // Beside the word, not on it.
  const from = (HALF_VALVE * letters + 8) / radius;
  const to = from + 0.17;
  return group(
    'counting',
    text({ x: 200, y: size * 0.95 }, 'valve', 'letter', 'middle', letters),
    arc(CENTRE, radius, from, to - 0.05, 'thin'),
    arrowHead(atAngle(CENTRE, radius, to - 0.1), atAngle(CENTRE, radius, to), 'arrow', Math.max(10, size * 0.45)),
  );
}
