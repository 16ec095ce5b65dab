import { describe, expect, it } from 'vitest';
import { chiSquareTail } from '../../src/physics/chiSquareTail.ts';

describe('upper tail of χ²', () => {
  // 95 % and 99 % points, Abramowitz & Stegun (1964), table 26.8
  it.each([
    [3.84146, 1, 0.05],
    [5.99146, 2, 0.05],
    [11.0705, 5, 0.05],
    [18.307, 10, 0.05],
    [6.6349, 1, 0.01],
    [23.2093, 10, 0.01],
    [43.773, 30, 0.05],
  ])('Q(%d | %d) = %d', (value, degrees, tail) => expect(chiSquareTail(value, degrees)).toBeCloseTo(tail, 5));
  it('is e^(−x/2) for two degrees, 1 for none', () => {
    for (const x of [0.1, 1, 7, 40]) expect(chiSquareTail(x, 2) / Math.exp(-x / 2)).toBeCloseTo(1, 10);
    expect(chiSquareTail(3, 0)).toBe(1);
  });
});
