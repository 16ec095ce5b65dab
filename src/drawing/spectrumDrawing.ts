import { roundSteps, scale } from './axis.ts';
import { circle, group, line, type Point, polygon, polyline, sheet, text } from './shapes.ts';
import type { SpectrumPicture } from './spectrumPicture.ts';
import type { SvgNode } from './svg.ts';

export interface SpectrumOptions {
  readonly label: string;
  readonly width?: number;
  readonly height?: number;
  readonly letterSize?: number;
}

const DEPTH_DB = 70;
/** Half of a digit's width over its height, in the widest of the faces that it may be set in. */
const HALF_DIGIT = 0.33;

/**
 * Spectrum of the last pluck: the curve, every used tone as a numbered disc on its peak, tones heard but not used as open rings,
 * and the partials that the described spoke predicts as broken lines. Where discs and broken lines meet, the number may be believed.
 * @param picture frequencies in hertz, levels in decibels
 */
export function spectrumDrawing(picture: SpectrumPicture, options: SpectrumOptions): SvgNode {
  const width = options.width ?? 400;
  const height = options.height ?? 210;
  const size = options.letterSize ?? 14;
  const frame = { left: 8, right: width - 8, top: size * 2.6, bottom: height - size * 1.8 };
  const first = picture.curve[0]?.frequencyHz ?? 0;
  const marked = [...picture.tones, ...picture.predicted].map((mark) => mark.frequencyHz);
  const last = Math.max(
    first + 1,
    marked.length > 0 ? Math.max(...marked) * 1.12 : (picture.curve.at(-1)?.frequencyHz ?? 1),
  );
  const shown = picture.curve.filter((point) => point.frequencyHz <= last);
  const levels = shown.map((point) => point.levelDb);
  const floor = picture.floorDb ?? Number.NEGATIVE_INFINITY;
  // Where next to nothing is above the floor, it does not fill the picture.
  const top = Math.max(levels.length > 0 ? Math.max(...levels) : 0, floor + DEPTH_DB / 2);
  const axis = Math.max(floor, top - DEPTH_DB);
  const x = scale(0, last, frame.left, frame.right);
  const y = (levelDb: number): number =>
    Math.min(frame.bottom, Math.max(frame.top, scale(axis, top, frame.bottom, frame.top)(levelDb)));
  const points: Point[] = shown.map((point) => ({ x: x(point.frequencyHz), y: y(point.levelDb) }));
  const levelAt = (frequencyHz: number): number => {
    const near = shown.filter((point) => Math.abs(point.frequencyHz - frequencyHz) < last / 200);
    return near.length > 0 ? Math.max(...near.map((point) => point.levelDb)) : (axis + top) / 2;
  };
  return sheet(
    width,
    height,
    options.label,
    group(
      'axis',
      line({ x: frame.left, y: frame.bottom }, { x: frame.right, y: frame.bottom }, 'outline'),
      ...roundSteps(0, last, Math.max(4, Math.round(width / 100))).flatMap((value) => [
        line({ x: x(value), y: frame.bottom }, { x: x(value), y: frame.bottom + 5 }, 'thin'),
        text(
          // Whole on the sheet, also at the axis's end.
          { x: Math.min(x(value), width - String(value).length * size * HALF_DIGIT), y: height - 4 },
          value === 0 ? 'Hz' : String(value),
          'letter',
          value === 0 ? 'start' : 'middle',
          size,
        ),
      ]),
    ),
    group(
      'predicted',
      picture.predicted
        .filter((mark) => mark.frequencyHz <= last)
        .flatMap((mark) => [
          line({ x: x(mark.frequencyHz), y: frame.top - 4 }, { x: x(mark.frequencyHz), y: frame.bottom }, 'hidden'),
        ]),
    ),
    points.length > 1 &&
      polygon(
        [{ x: points[0]?.x ?? 0, y: frame.bottom }, ...points, { x: points.at(-1)?.x ?? 0, y: frame.bottom }],
        'band',
      ),
    points.length > 1 && polyline(points, 'outline'),
    group(
      'tones',
      picture.tones.map((tone) => {
        const at = { x: x(tone.frequencyHz), y: y(levelAt(tone.frequencyHz)) };
        return tone.mode > 0
          ? group(
              'used',
              circle({ x: at.x, y: at.y - size * 0.9 }, size * 0.78, 'accent-fill'),
              text(
                { x: at.x, y: at.y - size * 0.9 + size * 0.34 },
                String(tone.mode),
                'letter on-accent',
                'middle',
                size,
              ),
            )
          : circle({ x: at.x, y: at.y - 6 }, 5, 'mark open');
      }),
    ),
  );
}
