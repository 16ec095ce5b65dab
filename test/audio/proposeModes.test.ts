import { describe, expect, it } from 'vitest';
import { proposeModes } from '../../src/audio/proposeModes.ts';
import type { ExpectedAtTension } from '../../src/contract.ts';
import { hertz, newtons } from '../../src/units.ts';

/** Pinned stiff string of 2 mm steel over 0.2 m: f_n = n/(2L)·√(T/μ)·√(1 + B n²), B = π²EI/(TL²). @source Fletcher 1964, JASA 36:203 */
function pinned(tensionN: number, n: number, lengthM = 0.2): number {
  const mu = 7900 * Math.PI * 1e-6;
  const bending = (193e9 * Math.PI * 0.002 ** 4) / 64;
  const B = (Math.PI ** 2 * bending) / (tensionN * lengthM ** 2);
  return (n / (2 * lengthM)) * Math.sqrt(tensionN / mu) * Math.sqrt(1 + B * n * n);
}
const ladder: ExpectedAtTension[] = Array.from({ length: 20 }, (_, i) => {
  const tensionN = 100 * 1.18 ** i;
  return {
    tensionN: newtons(tensionN),
    tones: [1, 2, 3, 4, 5].map((mode) => ({
      plane: 'inPlane' as const,
      family: 'segment' as const,
      mode,
      frequencyHz: hertz(pinned(tensionN, mode)),
      uHz: hertz(pinned(tensionN, mode) * 0.004 * (mode - 1)),
    })),
  };
});
const tone = (frequencyHz: number, levelDb = 0) => ({ frequencyHz, amplitude: 10 ** (levelDb / 20) });

describe('numbering', () => {
  it('gives each tone its mode at a tension between the rungs', () => {
    const [best] = proposeModes(
      [1, 2, 3, 4].map((n) => tone(pinned(777, n))),
      ladder,
    );
    expect(best?.modes).toEqual([1, 2, 3, 4]);
    expect(Math.abs((1200 / Math.LN2) * ((best?.lnFirst ?? 0) - Math.log(pinned(777, 1))))).toBeLessThan(2);
  });
  it('prefers the loud spoke to a complete comb of a neighbour 25 dB below', () => {
    const tones = [
      tone(pinned(900, 1)),
      tone(pinned(900, 3), -8),
      ...[1, 2, 3, 4, 5].map((n) => tone(pinned(700, n), -25 - n)),
    ];
    expect(proposeModes(tones, ladder)[0]?.modes.slice(0, 2)).toEqual([1, 3]);
  });
  it('infers the first tone where it is not heard', () => {
    const [best] = proposeModes(
      [2, 3, 4].map((n) => tone(pinned(600, n))),
      ladder,
    );
    expect(best?.modes).toEqual([2, 3, 4]);
    expect(Math.exp(best?.lnFirst ?? 0) / pinned(600, 1)).toBeCloseTo(1, 2);
  });
  it('infers it through ends that depart from their mean, which raise all ratios together', () => {
    const departed = (n: number) => pinned(600, n) * Math.exp(1.8 * 0.004 * (n - 1));
    const [best] = proposeModes(
      [2, 3, 4].map((n) => tone(departed(n))),
      ladder,
    );
    expect(best?.modes).toEqual([2, 3, 4]);
    const offPercent = 100 * Math.abs(Math.exp(best?.lnFirst ?? 0) / pinned(600, 1) - 1);
    expect(offPercent).toBeLessThan(100 * 2 * (best?.uFirst ?? 0));
    expect(offPercent).toBeLessThan(1);
  });
  it('leaves a fainter tone beside the place of the first tone to the neighbour', () => {
    const own = [2, 3, 4].map((n) => tone(pinned(600, n)));
    expect(proposeModes([tone(1.06 * pinned(600, 1), -24), ...own], ladder)[0]?.modes).toEqual([0, 2, 3, 4]);
  });
  it('leaves tones that no tension explains unexplained, and says so by its score', () => {
    const own = proposeModes(
      [1, 2, 3].map((n) => tone(pinned(800, n))),
      ladder,
    )[0];
    const bell = proposeModes(
      [500, 600, 750, 1100].map((f) => tone(f)),
      ladder,
    )[0];
    expect(bell?.score ?? 1).toBeLessThan((own?.score ?? 0) - 0.5);
    expect(bell?.evidence ?? 9).toBeLessThan(0);
  });
  it('gives both tones of a doublet the same mode', () => {
    const f = pinned(800, 1);
    const pair = [{ ...tone(f), pairId: 3 }, { ...tone(1.004 * f, -6), pairId: 3 }, tone(pinned(800, 2), -6)];
    expect(proposeModes(pair, ladder)[0]?.modes).toEqual([1, 1, 2]);
  });
  it('without a ladder numbers by free ratios, from a string to a bar', () => {
    for (const lengthM of [0.28, 0.2, 0.12]) {
      const [best] = proposeModes(
        [1, 2, 3, 4].map((n) => tone(pinned(900, n, lengthM), -3 * n)),
        undefined,
      );
      expect(best?.guess).toBe(true);
      expect(best?.modes).toEqual([1, 2, 3, 4]);
    }
  });
  it('keeps rivals apart: no two numberings are the same', () => {
    const found = proposeModes(
      [1, 2, 3].map((n) => tone(pinned(500, n))),
      ladder,
    );
    expect(new Set(found.map((n) => n.modes.join())).size).toBe(found.length);
  });
});
