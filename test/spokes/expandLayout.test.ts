import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import type { LaidSpoke } from '../../src/spokes/laidSpoke.ts';
import { layoutRefusals } from '../../src/spokes/layoutRefusal.ts';
import type { Layout, Side } from '../../src/spokes/wheel.ts';
import { inDegrees, inMillimetres } from '../../src/units.ts';
import { laced } from './laced.ts';

const lay = (layout: Layout): readonly LaidSpoke[] => {
  const laid = expandLayout(layout);
  if (!laid.ok) throw new Error(`${laid.reason} ${laid.field} ${laid.detail}`);
  return laid.spokes;
};
const first = (layout: Layout, side: Side): LaidSpoke => {
  const spoke = lay(layout).find((one) => one.side === side);
  if (!spoke) throw new Error('no spoke');
  return spoke;
};
const refusal = (layout: Layout) => {
  const laid = expandLayout(layout);
  return laid.ok ? 'ok' : `${laid.reason} ${laid.field} ${laid.detail}`;
};
/** Decimals of the published-formula figures below. */
const MM_DECIMALS = 5;

// Law of cosines in space, the trade's usual formula (from memory), evaluated with 40 digits by another program:
// effective diameter, pitch circle, centre to flange, spokes, crosses, hole → length.
const LENGTHS = [
  [602, 45, 32, 32, 3, 2.6, 293.569128],
  [602, 45, 18, 32, 3, 2.6, 292.379763],
  [602, 45, 35, 32, 0, 2.6, 279.390666],
  [559, 58, 20, 36, 4, 2.6, 275.369911],
  [600, 50, 25, 28, 2, 2.5, 284.92766],
  [600, 50, 25, 24, 0, 2.5, 274.884025],
] as const;

// Plane projection of the same lacing (from memory, evaluated by another program): crossings from the hub hole's centre.
const CROSSINGS = [
  [602, 45, 32, 3, [5.0526, 20.3875, 70.8231], 0.241612],
  [602, 45, 36, 3, [4.8388, 20.1981, 72.0161], 0.247985],
  [602, 45, 28, 2, [7.471, 49.7898], 0.173176],
  [602, 58, 32, 3, [6.4359, 25.5848, 84.7481], 0.291093],
] as const;

describe('a laced layout', () => {
  it.each(LENGTHS)(
    'has the spoke length of the law of cosines: %d/%d mm, w %d, %d spokes, %dx',
    (erd, pcd, w, n, k, hole, length) => {
      const spoke = first(
        laced({ effective: erd, pitch: pcd, centre: [w, w], count: n, crosses: [k, k], hole }),
        'left',
      );
      expect(inMillimetres(spoke.supportLength ?? (0 as never))).toBeCloseTo(length, MM_DECIMALS);
    },
  );

  it.each(CROSSINGS)(
    'crosses where plane geometry says: %d/%d mm, %d spokes, %dx',
    (erd, pcd, n, k, distances, fraction) => {
      // No flange distance and no hole: the plane of the published figures.
      const spoke = first(
        laced({ effective: erd, pitch: pcd, centre: [0, 0], count: n, crosses: [k, k], hole: 1e-9 }),
        'right',
      );
      const measured = spoke.crossings.map((crossing) => inMillimetres(crossing.fromHub));
      expect(measured).toHaveLength(k);
      for (const [i, distance] of distances.entries()) expect(measured[i]).toBeCloseTo(distance, 3);
      expect((spoke.crossingFromHub ?? 0) / (spoke.supportLength ?? 1)).toBeCloseTo(fraction, 5);
    },
  );

  it('has the bracing angles of a dished wheel', () => {
    const layout = laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses: [3, 3], hole: 2.6 });
    expect(inDegrees(first(layout, 'left').bracingAngle ?? (0 as never))).toBeCloseTo(6.80899, 5);
    expect(inDegrees(first(layout, 'right').bracingAngle ?? (0 as never))).toBeCloseTo(3.513932, 5);
  });

  it('moves the flanges towards an offset rim', () => {
    const layout = laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses: [3, 3], hole: 2.6 });
    const offset = { ...layout, rim: { ...layout.rim, offsetMm: -3 } };
    const even = laced({ effective: 602, pitch: 45, centre: [32, 21], count: 32, crosses: [3, 3], hole: 2.6 });
    for (const side of ['left', 'right'] as const)
      expect(first(offset, side).bracingAngle).toBeCloseTo(first(even, side).bracingAngle ?? 0, 12);
  });

  it('numbers spokes clockwise from the valve hole, and no two share a place or a hub hole', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('alternating', 'paired', 'twoToOne' as const),
        fc.constantFrom(12, 18, 24, 36, 48),
        fc.constantFrom(0, 1, 2),
        fc.constantFrom<Side>('left', 'right'),
        fc.constantFrom<'elbow' | 'straightPull'>('elbow', 'straightPull'),
        (pattern, count, crosses, firstSide, hub) => {
          const layout = laced(
            { effective: 600, pitch: 50, centre: [35, 20], count, crosses: [crosses, crosses], hole: 2.5 },
            { pattern, firstSide, pairSpacingMm: 8, moreSide: 'right' },
            hub,
          );
          const laid = expandLayout(layout);
          fc.pre(laid.ok);
          if (!laid.ok) return;
          expect(laid.spokes.map((spoke) => spoke.number)).toEqual(Array.from({ length: count }, (_, i) => i + 1));
          expect(laid.spokes[0]?.side).toBe(firstSide);
          const angles = laid.spokes.map((spoke) => spoke.rimAngle as number);
          expect(angles).toEqual([...angles].sort((a, b) => a - b));
          const ends = laid.spokes.map((s) => `${s.side} ${s.hubPoint.x.toFixed(5)} ${s.hubPoint.y.toFixed(5)}`);
          expect(new Set(ends).size).toBe(count);
          for (const spoke of laid.spokes) {
            if (spoke.crossingPartner === undefined) continue;
            const partner = laid.spokes[spoke.crossingPartner - 1];
            expect(partner?.crossingPartner).toBe(spoke.number);
            expect(partner?.side).toBe(spoke.side);
            expect(partner?.heading).not.toBe(spoke.heading);
            // Both are cut where they meet, so on a symmetrical side at the same distance.
            expect(partner?.crossingFromHub ?? 0).toBeCloseTo(spoke.crossingFromHub ?? 0, 9);
          }
        },
      ),
    );
  });

  it('gives the fuller side of a two-to-one wheel twice the spokes, the emptier side every third place', () => {
    const layout = laced(
      { effective: 600, pitch: 50, centre: [38, 18], count: 24, crosses: [0, 2], hole: 2.5 },
      { pattern: 'twoToOne', moreSide: 'right', firstSide: 'right' },
    );
    expect(
      lay(layout)
        .map((spoke) => spoke.side[0])
        .join(''),
    ).toBe('rlrrlrrlrrlrrlrrlrrlrrlr');
  });

  it('lays out twenty spokes two to one when told how many are on the fuller side', () => {
    const layout = laced(
      { effective: 600, pitch: 50, centre: [38, 18], count: 20, crosses: [0, 2], hole: 2.5 },
      { pattern: 'twoToOne', moreSide: 'right', firstSide: 'right' },
    );
    expect(refusal(layout)).toBe('countNotTwoToOne spokeCount 18, 21');
    const told = lay({ ...layout, lacing: { ...layout.lacing, moreCount: 14 } });
    expect(told.filter((spoke) => spoke.side === 'right')).toHaveLength(14);
    expect(told.filter((spoke) => spoke.side === 'left')).toHaveLength(6);
  });

  it('lets a crossed straight-pull spoke leave along the tangent to its pitch circle', () => {
    // Right triangle: √(300² − 25² + w²), whatever the crosses.
    const layout = laced(
      { effective: 600, pitch: 50, centre: [30, 20], count: 24, crosses: [2, 2], hole: 0 },
      {},
      'straightPull',
    );
    const spoke = first(layout, 'left');
    expect(inMillimetres(spoke.supportLength ?? (0 as never))).toBeCloseTo(Math.sqrt(300 ** 2 - 25 ** 2 + 30 ** 2), 9);
    // Crossing of two tangents whose rim ends are one step (30°) apart: r·tan(acos(r/R) − 15°) in the plane.
    const inPlane = 25 * Math.tan(Math.acos(25 / 300) - Math.PI / 12);
    const scale = Math.sqrt(300 ** 2 - 25 ** 2 + 30 ** 2) / Math.sqrt(300 ** 2 - 25 ** 2);
    expect(inMillimetres(spoke.crossingFromHub ?? (0 as never))).toBeCloseTo(inPlane * scale, 9);
    expect(spoke.crossings).toHaveLength(2);
  });

  it('keeps straight-pull spokes apart when told that they do not touch', () => {
    const layout = laced(
      { effective: 600, pitch: 50, centre: [30, 20], count: 24, crosses: [2, 2], hole: 0 },
      {},
      'straightPull',
    );
    const apart = { ...layout, lacing: { ...layout.lacing, left: { crosses: 2, touching: false } } };
    const spoke = first(apart, 'left');
    expect(spoke.touching).toBe(false);
    expect(spoke.crossingFromHub).toBeUndefined();
    expect(spoke.crossings).toHaveLength(2);
  });

  it('lets trailing spokes point backwards, the way that driving tightens', () => {
    const spoke = first(
      laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses: [3, 3], hole: 2.6 }),
      'right',
    );
    expect(spoke.heading).toBe('trailing');
    // Seen from the right the wheel rolls clockwise: the hub's end lies ahead, at the greater angle.
    const hubAngle = Math.atan2(spoke.hubPoint.x, spoke.hubPoint.y);
    expect(Math.sin(hubAngle - spoke.rimAngle)).toBeGreaterThan(0);
  });

  it.each([
    [{ count: 31 }, {}, 'countOdd spokeCount 30, 32'],
    [{ count: 2 }, {}, 'countOutOfRange spokeCount 4–144'],
    [{ count: 24.5 }, {}, 'countNotWhole spokeCount 24.5'],
    [{ crosses: [3, 5] as const }, {}, 'tooManyCrosses lacing.right.crosses 0–3'],
    [{ crosses: [-1, 3] as const }, {}, 'crossesNotWhole lacing.left.crosses -1'],
    [{ count: 18, crosses: [0, 1] as const }, {}, 'sideCountOdd lacing.right.crosses 0 (9)'],
    [{ effective: -602 }, {}, 'notPositive rim.effectiveDiameterMm -602'],
    [{ pitch: 620 }, {}, 'rimInsideHub hub.left.pitchCircleDiameterMm < 602'],
    [{ effective: Number.NaN }, {}, 'notPositive rim.effectiveDiameterMm NaN'],
    [{}, { pattern: 'paired' as const, pairSpacingMm: 200 }, 'pairTooWide lacing.pairSpacingMm 200'],
    [{}, { pattern: 'paired' as const }, 'notPositive lacing.pairSpacingMm –'],
  ])('refuses %j %j by naming the field', (dimensions, lacing, said) => {
    const d = {
      effective: 602,
      pitch: 45,
      centre: [35, 18] as const,
      count: 32,
      crosses: [3, 3] as const,
      hole: 2.6,
      ...dimensions,
    };
    expect(refusal(laced(d, lacing))).toBe(said);
  });
});

describe('a listed layout', () => {
  const spokes = Array.from({ length: 32 }, (_, i) => ({
    side: i % 2 === 0 ? ('left' as const) : ('right' as const),
    supportLengthMm: 290,
    crossingFromHubMm: 70,
    // 1 with 3, 2 with 4, 5 with 7 …
    crossingPartner: i + 1 + (i % 4 < 2 ? 2 : -2),
  }));

  it('names every spoke that cannot be, not only the first', () => {
    const wrong = spokes.map((spoke, i) => (i === 3 || i === 20 ? { ...spoke, crossingFromHubMm: 300 } : spoke));
    const laid = expandLayout({ kind: 'list', spokes: wrong });
    expect(laid.ok ? [] : layoutRefusals(laid).map(({ field }) => field)).toEqual([
      'spokes.3.crossingFromHubMm',
      'spokes.20.crossingFromHubMm',
    ]);
  });

  it('takes the dimensions as given and draws the crossing where the list says', () => {
    const laid = lay({ kind: 'list', spokes });
    const [one, , three] = laid;
    expect(one?.supportLength).toBeCloseTo(0.29, 12);
    expect(one?.crossingFromHub).toBeCloseTo(0.07, 12);
    expect(one?.heading).toBe('trailing');
    expect(three?.heading).toBe('leading');
    const at = (spoke: LaidSpoke | undefined, axis: 'x' | 'y') =>
      spoke ? spoke.hubPoint[axis] + (70 / 290) * (spoke.rimPoint[axis] - spoke.hubPoint[axis]) : Number.NaN;
    expect(at(one, 'x')).toBeCloseTo(at(three, 'x'), 9);
    expect(at(one, 'y')).toBeCloseTo(at(three, 'y'), 9);
  });

  it.each([
    [{ crossingFromHubMm: 300 }, 'crossingOutsideSpoke spokes.2.crossingFromHubMm 0–290'],
    [{ crossingPartner: 99 }, 'partnerNotMutual spokes.0.crossingPartner 3 ↔ 99'],
    [{ crossingPartner: 3 }, 'partnerNotMutual spokes.0.crossingPartner 3 ↔ 3'],
    [{ crossingPartner: 4 }, 'partnerNotMutual spokes.0.crossingPartner 3 ↔ 4'],
    [{ supportLengthMm: 0 }, 'notPositive spokes.2.supportLengthMm 0'],
  ])('refuses the third spoke with %j', (change, said) => {
    expect(
      refusal({ kind: 'list', spokes: spokes.map((spoke, i) => (i === 2 ? { ...spoke, ...change } : spoke)) }),
    ).toBe(said);
  });
});

it('refuses a spoke that touches one that is not there, or itself', () => {
  const listed = (crossingPartner: number): Layout => ({
    kind: 'list',
    spokes: ['left', 'left', 'right', 'right'].map((side) => ({
      side: side as Side,
      supportLengthMm: 290,
      crossingPartner,
    })),
  });
  expect(refusal(listed(99))).toBe('partnerUnknown spokes.0.crossingPartner 99');
  expect(refusal(listed(1))).toBe('partnerUnknown spokes.0.crossingPartner 1');
});

describe('an evenness layout', () => {
  it('knows places and sides and no length', () => {
    const laid = lay({ kind: 'evenness', sides: ['left', 'right', 'left', 'right'] });
    expect(laid.map((spoke) => spoke.side)).toEqual(['left', 'right', 'left', 'right']);
    expect(laid.every((spoke) => spoke.supportLength === undefined && spoke.schematic)).toBe(true);
  });
});
