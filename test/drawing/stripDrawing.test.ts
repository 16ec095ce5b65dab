import { describe, expect, it } from 'vitest';
import { beforeAfterStrip } from '../../src/drawing/beforeAfterStrip.ts';
import { stripDrawing } from '../../src/drawing/stripDrawing.ts';
import type { StripPicture } from '../../src/drawing/stripPicture.ts';
import { everyNode, lettering, withClass } from './everyNode.ts';

const strip = (values: readonly (number | undefined)[]): StripPicture => ({
  unit: 'N',
  left: { mean: 650, target: { low: 617, high: 683 }, maximum: 1200 },
  right: { mean: 1000, target: { low: 950, high: 1050 }, maximum: 1200 },
  spokes: values.map((value, i) => ({
    number: i + 1,
    side: i % 2 === 0 ? 'left' : 'right',
    ...(value === undefined ? {} : { value, plusMinus: 30 }),
    mark: value === undefined ? 'waiting' : 'within',
  })),
});
const middleOf = (tree: ReturnType<typeof stripDrawing>): number =>
  Number(
    withClass(tree, 'common')
      .flatMap((n) => everyNode(n))
      .find((n) => n.name === 'line')?.attributes.y1,
  );
const discHeights = (tree: ReturnType<typeof stripDrawing>) =>
  everyNode(tree)
    .filter((n) => n.attributes.class === 'mark m-fine')
    .map((n) => Number(n.attributes.cy));

describe('stripDrawing', () => {
  it('puts left spokes above and right spokes below one common line, more tension away from it', () => {
    const tree = stripDrawing(strip([600, 950, 700, 1050]), { label: 'strip' });
    const line = middleOf(tree);
    const [l1 = 0, r1 = 0, l2 = 0, r2 = 0] = discHeights(tree);
    expect(l1).toBeLessThan(line);
    expect(r1).toBeGreaterThan(line);
    expect(l2).toBeLessThan(l1);
    expect(r2).toBeGreaterThan(r1);
  });

  it('uses one scale for both sides: the same tension lies equally far from the line', () => {
    const tree = stripDrawing(strip([900, 900]), { label: 'strip' });
    const line = middleOf(tree);
    const [left = 0, right = 0] = discHeights(tree);
    expect(Math.abs(line - left - (right - line))).toBeLessThan(0.02);
  });

  it('draws no mark for a spoke that was not measured', () => {
    expect(discHeights(stripDrawing(strip([600, undefined, 700, undefined]), { label: 'strip' }))).toHaveLength(2);
  });

  it('says so where nothing was heard and no limit is known', () => {
    const empty: StripPicture = { ...strip([undefined, undefined]), left: {}, right: {} };
    expect(lettering(stripDrawing(empty, { label: 'strip' }))).toContain('nothing heard yet');
  });

  it('names a limit only where there is one', () => {
    const none: StripPicture = { ...strip([600, 900]), left: {}, right: {} };
    expect(lettering(stripDrawing(none, { label: 'strip' }))).not.toContain('maximum');
    expect(lettering(stripDrawing(strip([600, 900]), { label: 'strip' }))).toContain('maximum');
  });

  it('writes a limit’s word on the far side of its line: above a maximum of the left, below its minimum, the right mirrored', () => {
    const limits = { minimum: 500, maximum: 1200 };
    const tree = stripDrawing({ ...strip([600, 950]), left: limits, right: limits }, { label: 'strip' });
    const words = everyNode(tree).filter(({ children }) =>
      children.some((one) => one === 'maximum' || one === 'minimum'),
    );
    const lines = withClass(tree, 'limit').map(({ attributes }) => Number(attributes.y1));
    const below = words.map(({ attributes }, i) => Number(attributes.y) > (lines[i] ?? Number.NaN));
    expect(below).toEqual([false, true, true, false]);
  });

  it('leaves room for the word of a minimum before the numbers of the places', () => {
    const limits = { minimum: 400, maximum: 1200 };
    for (const size of [{ letterSize: 15 }, { letterSize: 17, width: 300 }]) {
      const tree = stripDrawing({ ...strip([600, 950]), left: limits, right: limits }, { label: 'strip', ...size });
      const [word] = everyNode(tree).filter(({ children }) => children.includes('minimum'));
      const numbers = withClass(tree, 'places')
        .flatMap((node) => everyNode(node))
        .filter(({ name }) => name === 'text');
      // A figure is about three quarters of its size high.
      const top = Math.min(
        ...numbers.map(({ attributes }) => Number(attributes.y) - 0.75 * Number(attributes['font-size'])),
      );
      expect(Number(word?.attributes.y)).toBeLessThan(top);
    }
  });

  it('refuses to compare two rounds with different places', () => {
    expect(() => beforeAfterStrip(strip([600, 900]), strip([600, 900, 610]), { label: 'x' })).toThrow(RangeError);
  });

  it('shows the earlier round as rings on the same scale', () => {
    const tree = beforeAfterStrip(strip([600, 900]), strip([640, 980]), { label: 'x' });
    expect(withClass(tree, 'ghost')).toHaveLength(2);
  });
});
