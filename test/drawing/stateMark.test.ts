import { describe, expect, it } from 'vitest';
import { markPlace, type SpokeMark, stateMark } from '../../src/drawing/stateMark.ts';

const MARKS = Object.keys(markPlace) as SpokeMark[];
/** What is left of a mark when it is printed in grey: shapes, filled or open, and its place. */
const inGrey = (mark: SpokeMark): string =>
  JSON.stringify([
    stateMark(mark, { x: 0, y: 0 }, 0, 8).map((node) => ({
      ...node,
      attributes: { ...node.attributes, class: String(node.attributes.class).replace(/m-(?!heard)\w+/, 'filled') },
    })),
    markPlace[mark],
  ]);

describe('stateMark', () => {
  it('tells every state from every other without colour; within and even are both in order', () => {
    const seen = new Map<string, SpokeMark[]>();
    for (const mark of MARKS) seen.set(inGrey(mark), [...(seen.get(inGrey(mark)) ?? []), mark]);
    expect([...seen.values()].filter((marks) => marks.length > 1)).toEqual([['within', 'even']]);
  });
  it('draws what is only probable open', () => {
    for (const mark of MARKS.filter((one) => one.startsWith('probably')))
      expect(stateMark(mark, { x: 0, y: 0 }, 0, 8)[0]?.attributes.class).toBe('mark open');
  });
});
