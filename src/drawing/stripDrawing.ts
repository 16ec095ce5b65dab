import { scale } from './axis.ts';
import { circle, group, line, rectangle, sheet, text } from './shapes.ts';
import { stateMark } from './stateMark.ts';
import type { StripPicture, StripSpoke } from './stripPicture.ts';
import { type StripScale, stripScale } from './stripScale.ts';
import type { SvgNode } from './svg.ts';

export interface StripOptions {
  readonly label: string;
  readonly selectedSpoke?: number;
  /** Of the same round heard earlier: drawn as open rings behind. */
  readonly before?: StripPicture;
  readonly width?: number;
  readonly letterSize?: number;
}

const HALF = 128;
const TOP = 22;
const TICK = 5;

/**
 * The round unrolled along one common line: left side above it, right side below, more tension always away from the line.
 * Limits are full lines, the mean a chain line, the evenness target a band, each reading a mark with its interval.
 * @param strip values in the unit shown, in the order of the places
 */
export function stripDrawing(strip: StripPicture, options: StripOptions): SvgNode {
  const width = options.width ?? 400;
  const size = options.letterSize ?? 13;
  const inset = size * 3.4;
  // Half of the last number stands beyond its place.
  const end = width - Math.max(6, size * 0.55);
  // Numbers of the places above the line, and above them the word of a minimum; below it as much, so that both sides lie equally far.
  const gap = 2 * (size + TICK + 7);
  const height = TOP * 2 + HALF * 2 + gap;
  const range = stripScale(strip, ...(options.before === undefined ? [] : [options.before]));
  const x = scale(0.5, strip.spokes.length + 0.5, inset, end);
  const middle = TOP + HALF + gap / 2;
  if (range === undefined) {
    return sheet(
      width,
      height,
      options.label,
      text({ x: width / 2, y: middle }, 'nothing heard yet', 'letter', 'middle', size),
    );
  }
  const up = scale(range.low, range.high, TOP + HALF, TOP);
  const down = scale(range.low, range.high, TOP + HALF + gap, TOP + HALF * 2 + gap);
  const y = { left: up, right: down };
  return sheet(
    width,
    height,
    options.label,
    halfOf('left', strip, up, range, inset, end, size),
    halfOf('right', strip, down, range, inset, end, size),
    group('common', line({ x: inset, y: middle }, { x: end, y: middle }, 'outline'), places(strip, x, middle, size)),
    (options.before?.spokes ?? []).map((spoke) => ring(spoke, x(spoke.number), y[spoke.side])),
    strip.spokes.map((spoke) => reading(spoke, x(spoke.number), y[spoke.side], options.selectedSpoke === spoke.number)),
    text({ x: 4, y: size }, `left, ${strip.unit}`, 'letter strong', 'start', size),
    text({ x: 4, y: height - 4 }, `right, ${strip.unit}`, 'letter strong', 'start', size),
  );
}

function halfOf(
  name: 'left' | 'right',
  strip: StripPicture,
  y: (value: number) => number,
  range: StripScale,
  inset: number,
  end: number,
  size: number,
): SvgNode {
  const side = strip[name];
  const across = (value: number, className: string) =>
    line({ x: inset, y: y(value) }, { x: end, y: y(value) }, className);
  const rises = y(range.high) < y(range.low);
  // A limit's word stands on the far side of its line, where no reading within the limits is.
  const limit = (value: number | undefined, word: 'maximum' | 'minimum') =>
    value === undefined
      ? []
      : [
          across(value, 'limit'),
          text(
            { x: end, y: y(value) + (rises === (word === 'maximum') ? -4 : size * 0.9) },
            word,
            'letter',
            'end',
            size,
          ),
        ];
  const band = side.target;
  return group(
    `half ${name}`,
    band &&
      rectangle(inset, Math.min(y(band.low), y(band.high)), end - inset, Math.abs(y(band.high) - y(band.low)), 'band'),
    range.steps.flatMap((value) => [
      line({ x: inset - 4, y: y(value) }, { x: inset, y: y(value) }, 'thin'),
      text({ x: inset - 6, y: y(value) + size * 0.35 }, figureOf(value), 'letter', 'end', size),
    ]),
    line({ x: inset, y: y(range.low) }, { x: inset, y: y(range.high) }, 'thin'),
    ...limit(side.maximum, 'maximum'),
    ...limit(side.minimum, 'minimum'),
    side.mean === undefined ? undefined : across(side.mean, 'centre'),
  );
}

function places(strip: StripPicture, x: (n: number) => number, middle: number, size: number): SvgNode {
  const every = strip.spokes.length > 20 ? 4 : 2;
  return group(
    'places',
    strip.spokes.map((spoke) => {
      const sign = spoke.side === 'left' ? -1 : 1;
      const numbered = spoke.number === 1 || spoke.number % every === 0;
      const at = { x: x(spoke.number), y: middle };
      return group(
        'place',
        line(at, { x: at.x, y: middle + sign * TICK }, 'thin'),
        numbered && text({ x: at.x, y: middle - TICK - 3 }, String(spoke.number), 'letter', 'middle', size),
      );
    }),
  );
}

function reading(spoke: StripSpoke, x: number, y: (v: number) => number, selected: boolean): SvgNode | undefined {
  if (spoke.value === undefined) return undefined;
  const u = spoke.plusMinus ?? 0;
  const [a, b] = [y(spoke.value - u), y(spoke.value + u)];
  return group(
    `reading ${spoke.mark}`,
    selected && rectangle(x - 9, Math.min(a, b) - 8, 18, Math.abs(b - a) + 16, 'thin'),
    line({ x, y: a }, { x, y: b }, 'whisker'),
    line({ x: x - 3, y: a }, { x: x + 3, y: a }, 'whisker'),
    line({ x: x - 3, y: b }, { x: x + 3, y: b }, 'whisker'),
    stateMark(spoke.mark, { x, y: y(spoke.value) }, spoke.side === 'left' ? 0 : Math.PI, 5),
  );
}

/** As short as it is, with a true minus. */
const figureOf = (value: number): string => String(Number(value.toPrecision(6))).replace('-', '−');

const ring = (spoke: StripSpoke, x: number, y: (v: number) => number): SvgNode | undefined =>
  spoke.value === undefined ? undefined : circle({ x, y: y(spoke.value) }, 4.5, 'ghost');
