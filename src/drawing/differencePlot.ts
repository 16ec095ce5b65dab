import { roundSteps, scale } from './axis.ts';
import { placeLabels } from './placeLabels.ts';
import { circle, group, line, rectangle, sheet, text } from './shapes.ts';
import type { SvgNode } from './svg.ts';

/** Two methods on the same spokes, in the unit shown. */
export interface DifferencePicture {
  readonly unit: string;
  readonly pairs: readonly {
    readonly number: number;
    readonly mean: number;
    readonly difference: number;
    readonly plusMinus?: number;
  }[];
  readonly meanDifference?: number;
  /** Limits of agreement, with the interval in which each may lie. */
  readonly lower?: { readonly value: number; readonly low: number; readonly high: number };
  readonly upper?: { readonly value: number; readonly low: number; readonly high: number };
}

const WIDTH = 400;
const HEIGHT = 280;
/** A narrow sheet is as much higher as its letters are larger, so that numbers find room beside their points. */
const NARROW_HEIGHT = 380;
/** Radius of a point. */
const MARK = 4;

/**
 * Difference of two methods against their mean: each spoke a numbered point, the mean difference a chain line, the limits of agreement
 * full lines within bands of their own uncertainty.
 * @source Bland, Altman (1986), Lancet 327:307, figure of difference against mean
 */
export function differencePlot(
  picture: DifferencePicture,
  options: {
    readonly label: string;
    /** Narrower than usual, for a phone: then no letter is smaller than another. */
    readonly narrow?: { readonly width: number; readonly letterSize: number };
  },
): SvgNode {
  const { narrow } = options;
  const [width, height] = [narrow?.width ?? WIDTH, narrow === undefined ? HEIGHT : NARROW_HEIGHT];
  const size = narrow?.letterSize ?? 13;
  const numbers = narrow === undefined ? size * 0.8 : size;
  const steps = narrow === undefined ? 5 : 3;
  const frame = { left: size * 3.6, right: width - 8, top: size * 1.6, bottom: height - size * 2.8 };
  if (picture.pairs.length === 0) {
    return sheet(
      width,
      height,
      options.label,
      text({ x: width / 2, y: height / 2 }, 'no spoke has both readings yet', 'letter', 'middle', size),
    );
  }
  const means = picture.pairs.map((pair) => pair.mean);
  const values = [
    0,
    ...picture.pairs.flatMap((pair) => [
      pair.difference - (pair.plusMinus ?? 0),
      pair.difference + (pair.plusMinus ?? 0),
    ]),
    ...[picture.lower, picture.upper].flatMap((limit) => (limit === undefined ? [] : [limit.low, limit.high])),
  ];
  const wide = (list: readonly number[]): readonly [number, number] => {
    const [low, high] = [Math.min(...list), Math.max(...list)];
    const margin = Math.max((high - low) * 0.07, Math.abs(high) * 1e-3, 1e-6);
    return [low - margin, high + margin];
  };
  const [x0, x1] = wide(means);
  const [y0, y1] = wide(values);
  const x = scale(x0, x1, frame.left, frame.right);
  const y = scale(y0, y1, frame.bottom, frame.top);
  const across = (value: number, className: string) =>
    line({ x: frame.left, y: y(value) }, { x: frame.right, y: y(value) }, className);
  const crossing = [0, ...(picture.meanDifference === undefined ? [] : [picture.meanDifference])].map(y);
  const lettering = narrow === undefined ? size * 0.9 : size;
  /** Above its line, or below where another line would strike the words through. */
  const baseline = (of: number): number => {
    const [above, below] = [y(of) - 3, y(of) + lettering];
    return crossing.some((at) => at > above - lettering && at < above + 2) ? below : above;
  };
  const limit = (at: DifferencePicture['lower'], word: string) =>
    at === undefined
      ? []
      : [
          rectangle(frame.left, y(at.high), frame.right - frame.left, y(at.low) - y(at.high), 'band'),
          across(at.value, 'limit'),
          text({ x: frame.right, y: baseline(at.value) }, word, 'letter', 'end', lettering),
        ];
  const marks = picture.pairs.map((pair) => ({ x: x(pair.mean), y: y(pair.difference), text: `${pair.number}` }));
  const labels = placeLabels(marks, frame, numbers, MARK);
  return sheet(
    width,
    height,
    options.label,
    group(
      'limits',
      ...limit(picture.upper, 'upper limit of agreement'),
      ...limit(picture.lower, 'lower limit of agreement'),
    ),
    group(
      'axes',
      line({ x: frame.left, y: frame.top }, { x: frame.left, y: frame.bottom }, 'outline'),
      line({ x: frame.left, y: frame.bottom }, { x: frame.right, y: frame.bottom }, 'outline'),
      ...roundSteps(y0, y1, 5).map((v) =>
        text(
          { x: frame.left - 5, y: y(v) + size / 3 },
          String(Number(v.toPrecision(4))).replace('-', '−'),
          'letter',
          'end',
          size,
        ),
      ),
      ...roundSteps(x0, x1, steps).map((v) =>
        text({ x: x(v), y: frame.bottom + size * 1.2 }, String(Number(v.toPrecision(5))), 'letter', 'middle', size),
      ),
      text({ x: frame.right, y: height - 4 }, `mean of both, ${picture.unit}`, 'letter strong', 'end', size),
      text({ x: 2, y: size }, `ear − gauge, ${picture.unit}`, 'letter strong', 'start', size),
    ),
    across(0, 'thin'),
    picture.meanDifference === undefined ? undefined : across(picture.meanDifference, 'centre'),
    group(
      'pairs',
      picture.pairs.map((pair, i) => {
        const at = { x: x(pair.mean), y: y(pair.difference) };
        const label = labels[i];
        const u = pair.plusMinus;
        return group(
          'pair',
          u !== undefined &&
            line({ x: at.x, y: y(pair.difference - u) }, { x: at.x, y: y(pair.difference + u) }, 'thin'),
          label?.led && line(at, { x: label.at.x, y: label.at.y - numbers * 0.35 }, 'thin'),
          circle(at, MARK, 'mark m-heard'),
          label && text(label.at, String(pair.number), 'letter', 'middle', numbers),
        );
      }),
    ),
  );
}
