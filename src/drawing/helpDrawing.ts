import { scale } from './axis.ts';
import { dimensionLine } from './dimensionLine.ts';
import { arrowHead, circle, group, line, type Point, path, polyline, rectangle, sheet, text } from './shapes.ts';
import { stateMark } from './stateMark.ts';
import type { SvgNode } from './svg.ts';

export type HelpTopic = 'hears' | 'twoTones' | 'plusMinus' | 'knownLoad' | 'cannotKnow';

/** Legible on a narrow phone, where the sheet is two thirds as wide. */
const LETTER = 24;

/** The one drawing of a help page. Shapes only: no reading is shown. */
export function helpDrawing(topic: HelpTopic, label: string): SvgNode {
  switch (topic) {
    case 'hears':
      return hears(label);
    case 'twoTones':
      return twoTones(label);
    case 'plusMinus':
      return plusMinus(label);
    case 'knownLoad':
      return knownLoad(label);
    case 'cannotKnow':
      return cannotKnow(label);
  }
}

/** A dying sound, its peaks, and the spoke they belong to: three steps joined by arrows. */
function hears(label: string): SvgNode {
  const ring: Point[] = Array.from({ length: 221 }, (_, i) => ({
    x: 10 + i * 0.5,
    y: 80 - (i < 12 ? 0 : Math.exp(-(i - 12) / 70) * (38 * Math.sin(i * 0.9) + 14 * Math.sin(i * 1.86))),
  }));
  const peaks = [
    { x: 160, tall: 74 },
    { x: 190, tall: 52 },
    { x: 222, tall: 30 },
  ];
  return sheet(
    400,
    170,
    label,
    polyline(ring, 'outline'),
    line({ x: 142, y: 122 }, { x: 248, y: 122 }, 'outline'),
    ...peaks.flatMap((p, i) => [
      path(`M${p.x - 10} 122q8 0 10 ${-p.tall}q2 ${p.tall} 10 ${p.tall}`, 'outline'),
      circle({ x: p.x, y: 122 - p.tall - 16 }, 15, 'accent-fill'),
      text({ x: p.x, y: 122 - p.tall - 8 }, String(i + 1), 'letter on-accent', 'middle', LETTER),
    ]),
    line({ x: 124, y: 80 }, { x: 136, y: 80 }, 'outline'),
    arrowHead({ x: 124, y: 80 }, { x: 140, y: 80 }, 'arrow', 10),
    line({ x: 252, y: 80 }, { x: 262, y: 80 }, 'outline'),
    arrowHead({ x: 252, y: 80 }, { x: 268, y: 80 }, 'arrow', 10),
    line({ x: 290, y: 122 }, { x: 380, y: 34 }, 'bold'),
    arrowHead({ x: 320, y: 92 }, { x: 290, y: 122 }, 'arrow', 14),
    arrowHead({ x: 350, y: 64 }, { x: 380, y: 34 }, 'arrow', 14),
    text({ x: 66, y: 156 }, 'pluck', 'letter', 'middle', LETTER),
    text({ x: 195, y: 156 }, 'its tones', 'letter', 'middle', LETTER),
    text({ x: 330, y: 156 }, 'tension', 'letter', 'middle', LETTER),
  );
}

/** Shapes of the two lowest tones between a clamped end (left) and a hinged end (right). */
function twoTones(label: string): SvgNode {
  const shape = (mode: number, y: number, height: number, softLeft: boolean): Point[] =>
    Array.from({ length: 81 }, (_, i) => {
      const s = i / 80;
      const ends = softLeft ? 1 : Math.min(1, s * 9) * Math.min(1, (1 - s) * 9);
      return { x: 40 + s * 320, y: y - height * ends * Math.sin(mode * Math.PI * s) };
    });
  const row = (y: number, mode: number): SvgNode[] => [
    line({ x: 40, y }, { x: 360, y }, 'centre'),
    polyline(shape(mode, y, 26, true), 'hidden'),
    polyline(shape(mode, y, 26, false), 'outline'),
    text({ x: 14, y: y + 7 }, String(mode), 'letter strong', 'middle', LETTER),
  ];
  return sheet(
    400,
    226,
    label,
    ...row(48, 1),
    ...row(118, 2),
    rectangle(34, 14, 6, 136, 'metal'),
    rectangle(360, 14, 6, 136, 'metal'),
    line({ x: 40, y: 176 }, { x: 84, y: 176 }, 'outline'),
    text({ x: 96, y: 184 }, 'ends held stiff', 'letter', 'start', LETTER),
    line({ x: 40, y: 205 }, { x: 84, y: 205 }, 'hidden'),
    text({ x: 96, y: 213 }, 'ends that turn', 'letter', 'start', LETTER),
  );
}

/** Four intervals against one limit, each with the word that follows from where it lies. */
function plusMinus(label: string): SvgNode {
  const x = scale(0, 10, 0, 160);
  const limit = 6.4;
  const rows = [
    { value: 3.4, mark: 'within', word: 'within' },
    { value: 5.6, mark: 'notCleared', word: 'cannot be cleared' },
    { value: 7.1, mark: 'probablyOver', word: 'probably over' },
    { value: 8.6, mark: 'over', word: 'over the limit' },
  ] as const;
  return sheet(
    400,
    212,
    label,
    line({ x: x(limit), y: 36 }, { x: x(limit), y: 202 }, 'limit'),
    text({ x: 10, y: 28 }, 'maker’s maximum', 'letter', 'start', LETTER),
    ...rows.flatMap((row, i) => {
      const y = 60 + i * 40;
      const u = 1.3;
      return [
        line({ x: x(row.value - u), y }, { x: x(row.value + u), y }, 'whisker'),
        line({ x: x(row.value - u), y: y - 6 }, { x: x(row.value - u), y: y + 6 }, 'whisker'),
        line({ x: x(row.value + u), y: y - 6 }, { x: x(row.value + u), y: y + 6 }, 'whisker'),
        group('row', stateMark(row.mark, { x: x(row.value), y }, Math.PI / 2, 8)),
        text({ x: 172, y: y + 8 }, row.word, 'letter', 'start', LETTER),
      ];
    }),
  );
}

/** A spare spoke lying in a frame, a load cell in line with it, and the length that counts. */
function knownLoad(label: string): SvgNode {
  const y = 92;
  return sheet(
    400,
    190,
    label,
    path('M18 62v60M18 62l-10 10M18 82l-10 10M18 102l-10 10', 'outline'),
    line({ x: 18, y }, { x: 46, y }, 'outline'),
    rectangle(46, y - 16, 62, 32, 'metal'),
    line({ x: 108, y }, { x: 140, y }, 'outline'),
    rectangle(140, y - 11, 22, 22, 'metal'),
    line({ x: 162, y }, { x: 346, y }, 'accent'),
    rectangle(346, y - 11, 22, 22, 'metal'),
    line({ x: 368, y }, { x: 382, y }, 'outline'),
    path('M382 62v60M382 72l10 -10M382 92l10 -10M382 112l10 -10', 'outline'),
    dimensionLine(162, 346, y, 138, 'its length', LETTER),
    text({ x: 77, y: 50 }, 'load cell', 'letter', 'middle', LETTER),
    text({ x: 254, y: 72 }, 'spare spoke', 'letter strong', 'middle', LETTER),
    text({ x: 151, y: 174 }, 'held here', 'letter', 'middle', LETTER),
    text({ x: 390, y: 174 }, 'and here', 'letter', 'end', LETTER),
  );
}

/** What hides from the ear: both end supports, the metal inside, and the state around the wheel. */
function cannotKnow(label: string): SvgNode {
  const asked = (at: Point): SvgNode =>
    group('asked', circle(at, 16, 'mark open'), text({ x: at.x, y: at.y + 8 }, '?', 'letter strong', 'middle', LETTER));
  return sheet(
    400,
    214,
    label,
    line({ x: 70, y: 90 }, { x: 330, y: 90 }, 'bold'),
    path('M70 90q-8 0 -8 8v22', 'bold'),
    path('M54 122h16', 'bold'),
    path('M42 60v78m0 -78h22v78h-22', 'hidden'),
    rectangle(310, 80, 30, 20, 'metal'),
    path('M340 52v76h18v-76z', 'outline'),
    asked({ x: 54, y: 36 }),
    asked({ x: 324, y: 36 }),
    asked({ x: 200, y: 62 }),
    text({ x: 14, y: 175 }, 'how stiffly', 'letter', 'start', LETTER),
    text({ x: 14, y: 202 }, 'the hub holds', 'letter', 'start', LETTER),
    text({ x: 200, y: 118 }, 'a crack, a notch,', 'letter', 'middle', LETTER),
    text({ x: 200, y: 144 }, 'worn metal', 'letter', 'middle', LETTER),
    text({ x: 386, y: 175 }, 'how stiffly', 'letter', 'end', LETTER),
    text({ x: 386, y: 202 }, 'the rim holds', 'letter', 'end', LETTER),
  );
}
