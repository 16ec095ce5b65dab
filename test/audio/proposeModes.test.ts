import { describe, expect, it } from 'vitest';
import { proposeModes } from '../../src/audio/proposeModes.ts';
import type { ExpectedAtTension } from '../../src/contract.ts';
import { hertz } from '../../src/units.ts';
import { rung } from './rung.ts';

/** Pinned stiff string of 2 mm steel over 0.2 m: f_n = n/(2L)·√(T/μ)·√(1 + B n²), B = π²EI/(TL²). @source Fletcher 1964, JASA 36:203 */
function pinned(tensionN: number, n: number, lengthM = 0.2): number {
  const mu = 7900 * Math.PI * 1e-6;
  const bending = (193e9 * Math.PI * 0.002 ** 4) / 64;
  const B = (Math.PI ** 2 * bending) / (tensionN * lengthM ** 2);
  return (n / (2 * lengthM)) * Math.sqrt(tensionN / mu) * Math.sqrt(1 + B * n * n);
}
const ladder: ExpectedAtTension[] = Array.from({ length: 20 }, (_, i) => {
  const tensionN = 100 * 1.18 ** i;
  const tones = [1, 2, 3, 4, 5].map((mode) => ({
    plane: 'inPlane' as const,
    family: 'segment' as const,
    mode,
    frequencyHz: hertz(pinned(tensionN, mode)),
  }));
  return rung(tensionN, tones, [0, 0.004, 0.008, 0.012, 0.016]);
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
  it('infers it where ends raise all tones of a tension together, the first most', () => {
    // Stiffer ends raise a short stiff wire's first tone by 8 %, the others by less; that much more tension raises all alike.
    const raised = [0.08, 0.06, 0.05, 0.044, 0.04];
    const open = ladder.map((r) => rung(r.tensionN, r.tones, raised));
    const stiff = (n: number) => pinned(600, n) * Math.exp(1.5 * (raised[n - 1] ?? 0));
    const [best] = proposeModes(
      [2, 3, 4].map((n) => tone(stiff(n))),
      open,
    );
    expect(best?.modes).toEqual([2, 3, 4]);
    const offPercent = 100 * Math.abs(Math.exp(best?.lnFirst ?? 0) / stiff(1) - 1);
    expect(offPercent).toBeLessThan(100 * 2 * (best?.uFirst ?? 0));
    expect(offPercent).toBeLessThan(1);
  });
  it('leaves a neighbour’s tone that lies near enough to the missing first, but rings on longer than the spoke does', () => {
    const ring = (frequencyHz: number, levelDb: number, decayS: number) => ({ ...tone(frequencyHz, levelDb), decayS });
    const own = [2, 3, 4].map((n) => ring(pinned(600, n), -2 * n, 0.1));
    const near = 1.012 * pinned(600, 1);
    expect(proposeModes([ring(near, -14, 0.8), ...own], ladder)[0]?.modes).toEqual([0, 2, 3, 4]);
    // The spoke's own, as loud as it was and with a ring of its kind, is taken there.
    expect(proposeModes([ring(near, -4, 0.15), ...own], ladder)[0]?.modes).toEqual([1, 2, 3, 4]);
  });
  it('leaves a tone that lies near enough to the missing first, but does not glide as the tension has all of the spoke’s do', () => {
    // Of a pinned wire d ln f / d ln T is ½/(1 + B n²), by its formula.
    const B = (Math.PI ** 2 * ((193e9 * Math.PI * 0.002 ** 4) / 64)) / (600 * 0.2 ** 2);
    const gliding = (n: number, levelDb: number, relative = (0.5 / (1 + B * n * n)) * 0.015) => ({
      ...tone((n === 1 ? 1.012 : 1) * pinned(600, n), levelDb),
      glide: { relative, sigma: 1e-4 },
    });
    const own = [2, 3, 4].map((n) => gliding(n, -2 * n));
    expect(proposeModes([gliding(1, -14), ...own], ladder)[0]?.modes).toEqual([1, 2, 3, 4]);
    expect(proposeModes([gliding(1, -14, 0), ...own], ladder)[0]?.modes).toEqual([0, 2, 3, 4]);
    expect(proposeModes([gliding(1, -14), ...own], undefined)[0]?.modes).toEqual([1, 2, 3, 4]);
    expect(proposeModes([gliding(1, -14, 0), ...own], undefined)[0]?.modes).toEqual([0, 2, 3, 4]);
  });
  it('is not led astray by one tone whose glide was fitted wrongly, be it the loudest', () => {
    const B = (Math.PI ** 2 * ((193e9 * Math.PI * 0.002 ** 4) / 64)) / (600 * 0.2 ** 2);
    const own = [1, 2, 3, 4, 5].map((n) => {
      const relative = ((n === 5 ? 2 : 1) * 0.5 * 0.015) / (1 + B * n * n);
      return { ...tone(pinned(600, n), n === 5 ? 0 : -6), glide: { relative, sigma: 1e-4 } };
    });
    const [best] = proposeModes(own, ladder);
    expect(best?.modes).toEqual([1, 2, 3, 4, 5]);
    // Four tell the tension's rise, each far likelier there than on another spoke; the fifth may be anything.
    expect(best?.glides).toBeGreaterThan(4 * 2);
  });
  it('takes the fainter of two tones for the first where it alone glides', () => {
    const glide = { relative: 0.006, sigma: 1e-4 };
    const own = [1, 2, 3].map((n) => ({ ...tone(pinned(600, n), n === 1 ? -18 : 0), glide }));
    const neighbour = { ...tone(1.003 * pinned(600, 1), -12), glide: { relative: 0, sigma: 1e-4 } };
    expect(proposeModes([...own, neighbour], ladder)[0]?.modes).toEqual([1, 2, 3, 0]);
  });
  it('says how likely a first tone is the spoke’s own: by its loudness, and by how closely the others imply it', () => {
    const open = ladder.map((r) => rung(r.tensionN, r.tones, [0.03, 0, 0, 0, 0], [0, 0.004, 0.008, 0.012, 0.016]));
    const upper = [2, 3, 4].map((n) => tone(pinned(600, n)));
    const own = (firstDb: number, expected: ExpectedAtTension[]) => {
      const [best] = proposeModes([tone(pinned(600, 1), firstDb), ...upper], expected);
      expect(best?.modes).toEqual([1, 2, 3, 4]);
      return best?.firstOwn ?? 0;
    };
    const twoNats = 2;
    expect(own(-26, ladder)).toBeGreaterThan(twoNats);
    expect(own(-26, open)).toBeLessThan(twoNats);
    expect(own(-6, open)).toBeGreaterThan(twoNats);
    expect(own(3, open)).toBe(Number.POSITIVE_INFINITY);
  });
  it('numbers a tone between hub and crossing as none of the ringing part’s, and finds it by them', () => {
    const short = (tensionN: number) => pinned(tensionN, 1, 0.063);
    const mixed = ladder.map((r) => {
      const hub = { plane: 'inPlane' as const, family: 'hub' as const, mode: 1, frequencyHz: hertz(short(r.tensionN)) };
      const tones = [...r.tones, hub].sort((a, b) => a.frequencyHz - b.frequencyHz);
      return rung(
        r.tensionN,
        tones,
        tones.map((t) => (t.family === 'hub' ? 0.03 : 0)),
      );
    });
    const heard = [pinned(700, 1), pinned(700, 2), pinned(700, 3), 1.02 * short(700)].sort((a, b) => a - b);
    const [best] = proposeModes(
      heard.map((f) => tone(f)),
      mixed,
    );
    expect(best?.explained).toBeCloseTo(1, 9);
    expect(best?.modes.filter((m) => m > 0)).toEqual([1, 2, 3]);
  });
  it('numbers an instrument’s string from its first tone, however faint, where no member is described', () => {
    // Plucked far from its end and heard through a body: the third to ninth tones are loud, the first is 15 dB below. B of a wound guitar string.
    const string = (n: number, B = 4e-4) => 147 * n * Math.sqrt((1 + B * n * n) / (1 + B));
    const levels = [-15, -12, -6, -3, -9, 0, -2, -8, -4, -20];
    const [best] = proposeModes(
      levels.map((db, i) => tone(string(i + 1), db)),
      undefined,
    );
    expect(best?.string).toBe(true);
    expect(best?.modes).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    const withoutFirst = proposeModes(
      levels.slice(1).map((db, i) => tone(string(i + 2), db)),
      undefined,
    )[0];
    expect((1200 / Math.LN2) * Math.abs((withoutFirst?.lnFirst ?? 0) - Math.log(string(1)))).toBeLessThan(5);
  });
  it('numbers a string whose loud tones are the sixth and above', () => {
    const string = (n: number, B = 2e-4) => 349 * n * Math.sqrt((1 + B * n * n) / (1 + B));
    const levels = { 1: -12, 4: -12, 6: -1, 7: -4, 8: -10, 9: -3, 10: 0, 11: -6 };
    const numbers = Object.keys(levels).map(Number);
    const [best] = proposeModes(
      Object.entries(levels).map(([n, db]) => tone(string(Number(n)), db)),
      undefined,
    );
    expect(best?.modes).toEqual(numbers);
  });
  it('takes no stiff wire for a string', () => {
    for (const tensionN of [300, 700, 1500]) {
      const [best] = proposeModes(
        [1, 2, 3, 4].map((n) => tone(pinned(tensionN, n), -3 * n)),
        undefined,
      );
      expect(best?.string).toBe(false);
      expect(best?.modes).toEqual([1, 2, 3, 4]);
    }
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
