import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../src/contract.ts';
import { compareMethods } from '../../../src/spokes/compareMethods.ts';
import { conclusionText } from '../../../src/ui/screens/evidence/conclusionText.ts';
import { newtons } from '../../../src/units.ts';

const TENSIONS = [1000, 1040, 960, 1010, 985, 1025, 970, 1050, 995, 1015, 1035, 965];
/** Without a trend over the tensions: opposite signs at neighbouring ones. */
const WOBBLE = [3, 3, -3, 3, -3, -3, 3, 3, -3, -3, -3, 3];
const sides = TENSIONS.map(() => 'right' as const);
const ear = new Map(
  TENSIONS.map((tensionN, i): [number, Reading] => [
    i + 1,
    {
      ok: true,
      tensionN: newtons(tensionN),
      uOwnN: newtons(5),
      uCommonN: newtons(20),
      assignment: [],
      agreement: 1,
      contributions: [],
    },
  ]),
);
const conclude = (second: (tensionN: number, i: number) => number, unit: 'N' | 'kgf' = 'N') => {
  const readings = new Map(TENSIONS.map((one, i) => [i + 1, { valuesN: [second(one, i)], uN: 10 }]));
  const [side] = compareMethods([ear], readings, sides).sides;
  return side ? conclusionText(side, unit) : '';
};

describe('the conclusion in words', () => {
  it('says the direction and the size of a constant difference', () => {
    expect(conclude((one, i) => one + 50 + (WOBBLE[i] ?? 0))).toMatch(
      /^Right side, 12 spokes: the ear reads 50 N below the gauge on average/,
    );
  });
  it('says whether both scales’ stated uncertainties cover it: 2 √(20² + 10²) is 45 N', () => {
    expect(conclude((one, i) => one + 30 + (WOBBLE[i] ?? 0))).toContain('±\u00a045 N: the difference lies within that');
    expect(conclude((one, i) => one + 60 + (WOBBLE[i] ?? 0))).toContain('lies beyond that');
  });
  it('in the unit chosen', () => {
    expect(conclude((one, i) => one - 98.0665 + (WOBBLE[i] ?? 0), 'kgf')).toContain('10.0 kgf above the gauge');
  });
  it('claims no difference where none can be shown, and not that there is none', () => {
    expect(conclude((one, i) => one + (WOBBLE[i] ?? 0))).toContain('no difference between the methods can be shown');
  });
  it('says which way a difference goes with tension, its sign counted: one below zero that grows, falls', () => {
    const along = (slope: number, offset: number) => conclude((one, i) => slope * one + offset + (WOBBLE[i] ?? 0) / 10);
    expect(along(0.6, 400)).toContain('ear less gauge rises as tension rises');
    expect(along(1.4, -300)).toContain('ear less gauge falls as tension rises');
  });
});
