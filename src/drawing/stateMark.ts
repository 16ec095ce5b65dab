import { circle, line, type Point, polygon } from './shapes.ts';
import type { SvgNode } from './svg.ts';

/** What is known of a spoke, as far as a mark can tell it. */
export type SpokeMark =
  | 'waiting'
  | 'heardOnce'
  | 'settled'
  | 'skipped'
  | 'within'
  | 'notCleared'
  | 'over'
  | 'probablyOver'
  | 'under'
  | 'probablyUnder'
  | 'even'
  | 'tight'
  | 'probablyTight'
  | 'slack'
  | 'probablySlack';

/** Where the mark stands: outwards for too much, inwards for too little, on the line otherwise. Shape and place tell it; colour comes last. */
export const markPlace: Readonly<Record<SpokeMark, -1 | 0 | 1>> = {
  waiting: 0,
  heardOnce: 0,
  settled: 0,
  skipped: 0,
  within: 0,
  notCleared: 0,
  over: 1,
  probablyOver: 1,
  under: -1,
  probablyUnder: -1,
  even: 0,
  tight: 1,
  probablyTight: 1,
  slack: -1,
  probablySlack: -1,
};

/**
 * The sign of a spoke's state. A triangle is a limit, a square with plus or minus is evenness, a disc is in order, a diamond is undecided; open means probable.
 * @param at centre of the mark
 * @param outward direction in which "more" lies, as an angle counted like rim angles
 * @param size half width
 */
export function stateMark(mark: SpokeMark, at: Point, outward: number, size: number): readonly SvgNode[] {
  const turn = (forward: number, side: number): Point => ({
    x: at.x + (forward * Math.sin(outward) + side * Math.cos(outward)) * size,
    y: at.y + (-forward * Math.cos(outward) + side * Math.sin(outward)) * size,
  });
  const pointing = (sign: number) => [turn(1.1 * sign, 0), turn(-0.8 * sign, 1), turn(-0.8 * sign, -1)];
  const square = [turn(0.85, 0.85), turn(0.85, -0.85), turn(-0.85, -0.85), turn(-0.85, 0.85)];
  const diamond = [turn(1.1, 0), turn(0, 1.1), turn(-1.1, 0), turn(0, -1.1)];
  // Told apart where the place cannot tell: in a legend, in grey.
  const minus = line(turn(0, 0.5), turn(0, -0.5), 'sign');
  const plus = [minus, line(turn(0.5, 0), turn(-0.5, 0), 'sign')];
  switch (mark) {
    case 'waiting':
      return [circle(at, size * 0.35, 'mark open')];
    case 'heardOnce':
      return [circle(at, size * 0.75, 'mark open'), circle(at, size * 0.3, 'solid')];
    case 'settled':
      return [circle(at, size * 0.8, 'mark m-heard')];
    case 'skipped':
      return [line(turn(0.8, 0.8), turn(-0.8, -0.8), 'outline'), line(turn(0.8, -0.8), turn(-0.8, 0.8), 'outline')];
    case 'within':
    case 'even':
      return [circle(at, size * 0.85, 'mark m-fine')];
    case 'notCleared':
      return [polygon(diamond, 'mark m-unsure'), line(turn(-0.6, 0), turn(0.6, 0), 'thin')];
    case 'over':
      return [polygon(pointing(1), 'mark m-high')];
    case 'probablyOver':
      return [polygon(pointing(1), 'mark open')];
    case 'under':
      return [polygon(pointing(-1), 'mark m-low')];
    case 'probablyUnder':
      return [polygon(pointing(-1), 'mark open')];
    case 'tight':
      return [polygon(square, 'mark m-high'), ...plus];
    case 'probablyTight':
      return [polygon(square, 'mark open'), ...plus];
    case 'probablySlack':
      return [polygon(square, 'mark open'), minus];
    case 'slack':
      return [polygon(square, 'mark m-low'), minus];
  }
}
