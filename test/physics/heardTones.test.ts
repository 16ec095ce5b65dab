import { describe, expect, it } from 'vitest';
import { heardTones } from '../../src/physics/heardTones.ts';
import { measureSpoke } from '../../src/physics/measureSpoke.ts';
import { modes } from '../../src/physics/modes.ts';
import { prepareMember } from '../../src/physics/prepareMember.ts';
import { newtons } from '../../src/units.ts';
import { A, described, ends } from './members.ts';
import { pluckOf, spokeOf, tonesOf, UNCROSSED } from './plucks.ts';

const N = 600;
const OWN: readonly number[] = modes(A, newtons(N), ends(12, 30), 'inPlane', { kind: 'none' }, 3);
const foreignOf = (tones: readonly [number, number][], hz: number) =>
  heardTones([pluckOf(tonesOf(tones), UNCROSSED)]).find(({ frequencyHz }) => frequencyHz === hz)?.lnForeign ?? 0;

/** Stretched twice a period, a swinging string pulls at its supports with the sums of its tones: Conklin, JASA 105 (1999), 536. */
describe('a tone at twice another', () => {
  const first = OWN[0] as number;
  it('is commoner among the foreign ones than a tone that nothing explains', () => {
    const plain = foreignOf(
      [
        [first, 10],
        [2.02 * first, 0],
      ],
      2.02 * first,
    );
    const doubled = foreignOf(
      [
        [first, 10],
        [2 * first, 0],
      ],
      2 * first,
    );
    expect(doubled).toBeGreaterThan(plain + 1);
  });
  it('is so too where the two planes add up', () => {
    const other = 1.006 * first;
    const between = first + other;
    const tones: [number, number][] = [
      [first, 10],
      [other, 14],
      [between, 0],
    ];
    expect(foreignOf(tones, between)).toBeGreaterThan(foreignOf([[between, 0]], between) + 1);
  });
  it('is not the second tone of a stiff wire, which lies higher', () => {
    const tones = OWN.map((f, n): [number, number] => [f, 3 * n]);
    // Rare at the level of the loudest, commoner below it: what is assumed where nothing is known.
    OWN.forEach((f, n) => {
      expect(foreignOf(tones, f)).toBeCloseTo(-3.4 + 0.11 * 3 * n, 6);
    });
  });
  it('does not pass for the first, however loud', () => {
    const tones = OWN.map((f, n): [number, number] => [f, 12 + 3 * n]);
    const result = measureSpoke(
      spokeOf(prepareMember(described(A)), [pluckOf(tonesOf([...tones, [2 * first, 0]]), UNCROSSED)]),
    );
    expect(result.ok).toBe(true);
    if (!result.ok) return;
    expect(Math.abs(result.tensionN - N)).toBeLessThan(2 * Math.hypot(result.uOwnN, result.uCommonN));
  });
});
