import { describe, expect, it } from 'vitest';
import type { SpokeMark } from '../../src/drawing/stateMark.ts';
import { wheelDrawing } from '../../src/drawing/wheelDrawing.ts';
import type { WheelPicture } from '../../src/drawing/wheelPicture.ts';
import { metres, radians } from '../../src/units.ts';
import { everyNode, lettering, withClass } from './everyNode.ts';

const COUNT = 32;
const wheel = (mark: (n: number) => SpokeMark = () => 'waiting'): WheelPicture => ({
  rimRadius: metres(0.301),
  leftFlangeRadius: metres(0.0225),
  rightFlangeRadius: metres(0.0225),
  spokes: Array.from({ length: COUNT }, (_, i) => ({
    number: i + 1,
    side: i % 2 === 0 ? 'left' : 'right',
    rimAngle: radians(((i + 0.5) * 2 * Math.PI) / COUNT),
    hub: { angle: radians(((i + 0.5) * 2 * Math.PI) / COUNT + 1.1), radius: metres(0.0225) },
    crossingShare: 0.24,
    mark: mark(i + 1),
  })),
});
const rimDistance = (node: { attributes: Readonly<Record<string, string | number>> }) =>
  Math.hypot(Number(node.attributes.cx) - 200, Number(node.attributes.cy) - 200);

describe('wheelDrawing', () => {
  it('draws every spoke once and gives each its state at the rim', () => {
    const tree = wheelDrawing(wheel(), { label: 'wheel' });
    const lines = everyNode(tree).filter((n) => n.name === 'line' && n.attributes['data-spoke'] !== undefined);
    expect(lines.map((n) => n.attributes['data-spoke']).sort((a, b) => Number(a) - Number(b))).toEqual(
      Array.from({ length: COUNT }, (_, i) => i + 1),
    );
    expect(withClass(tree, 'state')).toHaveLength(COUNT);
  });

  it('gives the room at the valve to the mark of a spoke that stands out there, numbered or not', () => {
    const words = (mark: SpokeMark) =>
      lettering(
        wheelDrawing(
          wheel((n) => (n === 1 ? mark : 'waiting')),
          { label: 'wheel', letterSize: 36 },
        ),
      );
    expect(words('waiting')).toContain('valve');
    expect(words('tight')).not.toContain('valve');
  });

  it('puts place 1 just clockwise of the valve on top, seen from the right', () => {
    const tree = wheelDrawing(wheel(), { label: 'wheel' });
    const first = everyNode(tree).find((n) => n.name === 'line' && n.attributes['data-spoke'] === 1);
    expect(Number(first?.attributes.x2)).toBeGreaterThan(200);
    expect(Number(first?.attributes.y2)).toBeLessThan(80);
  });

  it('draws left spokes, behind the hub, in broken lines and right ones in full lines', () => {
    const lines = everyNode(wheelDrawing(wheel(), { label: 'wheel' })).filter(
      (n) => n.name === 'line' && n.attributes['data-spoke'] !== undefined,
    );
    for (const node of lines) {
      expect(node.attributes.class).toBe(Number(node.attributes['data-spoke']) % 2 === 1 ? 'hidden' : 'outline');
    }
  });

  it('flags the spoke to pluck with its number', () => {
    const tree = wheelDrawing(wheel(), { label: 'wheel', currentSpoke: 12 });
    expect(withClass(tree, 'flag')).toHaveLength(1);
    expect(lettering(tree)).toContain('12');
    expect(withClass(tree, 'current')[0]?.children).toHaveLength(1);
  });

  it('leaves the valve unnamed where the number of a spoke that is marked outwards would lie on the word', () => {
    const words = (tight: number) =>
      lettering(
        wheelDrawing(
          wheel((n) => (n === tight ? 'tight' : 'even')),
          { label: 'wheel', numberFlagged: true },
        ),
      );
    expect(words(9)).toContain('valve');
    expect(words(1)).not.toContain('valve');
    expect(words(1)).toContain('1');
    expect(words(COUNT)).not.toContain('valve');
  });

  it('counts from the word “valve” on, not across it, whatever the size of its letters', () => {
    // Half of the word in a wide sans serif: 2.6 ems of five letters.
    const halfWord = (size: number) => 1.3 * size;
    for (const letterSize of [20, 28, 36]) {
      const [counting] = withClass(wheelDrawing(wheel(), { label: 'wheel', letterSize }), 'counting');
      const nodes = counting === undefined ? [] : everyNode(counting);
      const word = nodes.find((node) => node.name === 'text');
      const path = nodes.find((node) => node.name === 'path');
      const startX = Number(/^M\s*([\d.]+)/.exec(String(path?.attributes.d))?.[1]);
      expect(startX - 200).toBeGreaterThan(halfWord(Number(word?.attributes['font-size'])));
    }
  });

  it('letters nothing on a picture too small to be read', () => {
    expect(lettering(wheelDrawing(wheel(), { label: 'wheel', letterSize: 0 }))).toEqual([]);
  });

  it('keeps the flag whole on the sheet at every place, whatever the size of its letters', () => {
    for (const letterSize of [20, 36])
      for (let currentSpoke = 1; currentSpoke <= COUNT; currentSpoke++) {
        const [flag] = withClass(wheelDrawing(wheel(), { label: 'wheel', currentSpoke, letterSize }), 'flag');
        const disc = flag === undefined ? undefined : everyNode(flag).find((node) => node.name === 'circle');
        const [x, y, r] = ['cx', 'cy', 'r'].map((key) => Number(disc?.attributes[key]));
        for (const at of [x, y]) {
          expect((at ?? Number.NaN) - (r ?? Number.NaN)).toBeGreaterThanOrEqual(0);
          expect((at ?? Number.NaN) + (r ?? Number.NaN)).toBeLessThanOrEqual(400);
        }
      }
  });

  it('sets the number of a spoke that stands out clear of its mark, and on the sheet, at every place', () => {
    for (const letterSize of [20, 28, 32])
      for (const mark of ['over', 'tight', 'under', 'slack'] as const)
        for (let spoke = 1; spoke <= COUNT; spoke++) {
          const tree = wheelDrawing(
            wheel((n) => (n === spoke ? mark : 'within')),
            { label: 'wheel', numberFlagged: true, letterSize },
          );
          const number = everyNode(tree).find((n) => n.name === 'text' && n.children[0] === String(spoke));
          const [x, y, size] = ['x', 'y', 'font-size'].map((key) => Number(number?.attributes[key]));
          if (x === undefined || y === undefined || size === undefined) throw new RangeError('expected a number');
          // Bold digits of a wide sans serif: 0.7 em wide, 0.73 em high (from memory, DejaVu Sans).
          const half = (String(spoke).length * 0.7 * size) / 2;
          const box = { left: x - half, right: x + half, top: y - 0.73 * size, bottom: y };
          expect(Math.min(box.left, box.top)).toBeGreaterThanOrEqual(0);
          expect(Math.max(box.right, box.bottom)).toBeLessThanOrEqual(400);
          const state = everyNode(tree).find((n) => n.name === 'g' && n.attributes['data-spoke'] === spoke);
          const shape = state && everyNode(state).find((n) => n.name === 'polygon');
          for (const corner of String(shape?.attributes.points).split(' ')) {
            const [cx = Number.NaN, cy = Number.NaN] = corner.split(',').map(Number);
            const inside = cx > box.left && cx < box.right && cy > box.top && cy < box.bottom;
            expect(inside, `${mark} ${spoke} at ${letterSize}`).toBe(false);
          }
        }
  });

  it('tells too much from too little by place and not by colour alone: a spoke in order lies on the rim', () => {
    const tree = wheelDrawing(
      wheel((n) => (n === 3 ? 'over' : n === 5 ? 'under' : 'within')),
      { label: 'wheel', numberFlagged: true },
    );
    const polygonsOf = (spoke: number) =>
      everyNode(tree)
        .filter((n) => n.name === 'g' && n.attributes['data-spoke'] === spoke)
        .flatMap((n) => everyNode(n).filter((m) => m.name === 'polygon'));
    const middle = (points: string) => {
      const pairs = points.split(' ').map((p) => p.split(',').map(Number));
      return Math.hypot(
        pairs.reduce((s, p) => s + (p[0] ?? 0), 0) / pairs.length - 200,
        pairs.reduce((s, p) => s + (p[1] ?? 0), 0) / pairs.length - 200,
      );
    };
    const disc = everyNode(tree).find((n) => n.name === 'circle' && n.attributes.class === 'mark m-fine');
    const onRim = rimDistance(disc ?? { attributes: {} });
    expect(middle(String(polygonsOf(3)[0]?.attributes.points))).toBeGreaterThan(onRim + 8);
    expect(middle(String(polygonsOf(5)[0]?.attributes.points))).toBeLessThan(onRim - 8);
    expect(lettering(tree)).toEqual(expect.arrayContaining(['3', '5']));
    expect(lettering(tree)).not.toContain('4');
  });

  it('draws a wheel of which only the sides are known without inventing crossings', () => {
    const bare: WheelPicture = { spokes: wheel().spokes.map(({ hub: _, crossingShare: __, ...spoke }) => spoke) };
    const tree = wheelDrawing(bare, { label: 'wheel' });
    expect(withClass(tree, 'crossings')[0]?.children).toHaveLength(0);
  });
});
