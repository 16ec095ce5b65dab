import fc from 'fast-check';
import { mad, mean, median as medianOf, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import type { Reading } from '../../src/contract.ts';
import { evennessVerdicts } from '../../src/spokes/evennessVerdict.ts';
import { expandLayout } from '../../src/spokes/expandLayout.ts';
import { findOutliers } from '../../src/spokes/findOutliers.ts';
import { limitVerdict } from '../../src/spokes/limitVerdict.ts';
import { median, scaledMad } from '../../src/spokes/median.ts';
import { nextSteps } from '../../src/spokes/nextSteps.ts';
import { expectedSideRatio, sideRatio } from '../../src/spokes/sideRatio.ts';
import { sideStatistics } from '../../src/spokes/sideStatistics.ts';
import type { Limits } from '../../src/spokes/wheel.ts';
import { newtons } from '../../src/units.ts';
import { laced } from './laced.ts';

const reading = (tensionN: number, uOwnN = 10, uCommonN = 20, more: Partial<Reading> = {}): Reading => ({
  ok: true,
  tensionN: newtons(tensionN),
  uOwnN: newtons(uOwnN),
  uCommonN: newtons(uCommonN),
  assignment: [],
  agreement: 0.5,
  contributions: [],
  ...more,
});
const limits = (change: Partial<Limits> = {}): Limits => ({
  minimumN: 800,
  maximumN: 1200,
  unit: 'N',
  source: 'test',
  state: { tyre: 'off' },
  ...change,
});
const OFF = { tyre: 'off' } as const;

describe('the verdict against limits', () => {
  // u = √(10² + 20²) = 22.36, U = 44.7.
  it.each([
    [1250, 'over'],
    [1240, 'probablyOver'],
    [1201, 'probablyOver'],
    [1190, 'cannotBeCleared'],
    [1150, 'within'],
    [850, 'within'],
    [840, 'cannotBeCleared'],
    [799, 'probablyUnder'],
    [750, 'under'],
  ])('of %d N between 800 and 1200 N is %s when U is 45 N', (tension, word) => {
    expect(limitVerdict(reading(tension), limits(), OFF).word).toBe(word);
  });

  it('names the limit that decided', () => {
    expect(limitVerdict(reading(1250), limits(), OFF).limit).toEqual({ kind: 'maximum', value: 1200 });
    expect(limitVerdict(reading(799), limits(), OFF).limit).toEqual({ kind: 'minimum', value: 800 });
  });

  it('is never invented where the maker states nothing', () => {
    expect(limitVerdict(reading(1250), undefined, OFF).word).toBe('noLimit');
    expect(limitVerdict(reading(1250), { unit: 'N', source: 'test', state: OFF }, OFF).word).toBe('noLimit');
  });

  it('judges by no limit when the minimum lies above the maximum', () => {
    const verdict = limitVerdict(reading(1000), limits({ minimumN: 1300 }), OFF);
    expect(verdict).toMatchObject({ word: 'noLimit', because: 'limitsContradict' });
  });

  it('clears nothing in another state of the wheel, and says over where a tyre can only hide it', () => {
    const on = { tyre: 'on', pressureBar: 6 } as const;
    expect(limitVerdict(reading(1000), limits(), on)).toMatchObject({ word: 'cannotBeCleared', because: 'state' });
    expect(limitVerdict(reading(700), limits(), on)).toMatchObject({ word: 'cannotBeCleared', because: 'state' });
    expect(limitVerdict(reading(1000), limits(), { tyre: 'unknown' }).word).toBe('cannotBeCleared');
    expect(limitVerdict(reading(1300), limits(), on).word).toBe('over');
    expect(limitVerdict(reading(1300), limits({ state: on }), OFF).word).toBe('cannotBeCleared');
  });

  it('counts a correction with its own uncertainty', () => {
    const on = { tyre: 'on' } as const;
    const corrected = limitVerdict(reading(1000), limits(), on, { shift: newtons(100), u: newtons(20) });
    expect(corrected).toMatchObject({ word: 'within', tension: 1100 });
    expect(corrected.expanded).toBeCloseTo(2 * Math.hypot(10, 20, 20), 9);
  });

  it('is over or within only with the whole interval, and never both undecided and decided', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 100, max: 2000, noNaN: true }),
        fc.double({ min: 0, max: 200, noNaN: true }),
        (tension, u) => {
          const { word } = limitVerdict(reading(tension, u, 0), limits(), OFF);
          if (word === 'over') expect(tension - 2 * u).toBeGreaterThan(1200);
          if (word === 'within') expect(tension + 2 * u <= 1200 && tension - 2 * u >= 800).toBe(true);
          if (word === 'under') expect(tension + 2 * u).toBeLessThan(800);
        },
      ),
    );
  });
});

describe('the verdict on evenness', () => {
  const side = (values: readonly number[], uOwn: number) =>
    evennessVerdicts(
      values.map((value) => ({ value, uOwn })),
      5,
    );

  it('calls a spoke tight or slack only when the whole interval is outside the target', () => {
    const values = [1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000, 1100, 900];
    const words = (uOwn: number) => side(values, uOwn).map((verdict) => verdict.word);
    expect(words(5)).toEqual([...Array(8).fill('even'), 'tight', 'slack']);
    expect(words(30).slice(7)).toEqual(['cannotBeCleared', 'probablyTight', 'probablySlack']);
  });

  it('propagates own uncertainties through the mean that the spoke is part of', () => {
    // Two spokes: the deviation of each is half their difference, so its variance is (u² + u²)/4.
    const [first] = side([1000, 1000], 10);
    expect(first?.expandedPercent).toBeCloseTo(((2 * Math.sqrt(200)) / 2 / 1000) * 100, 9);
  });

  it('does not depend on what is common: a scale error leaves every word', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 500, max: 1500, noNaN: true }), { minLength: 3, maxLength: 16 }),
        fc.double({ min: 0.7, max: 1.4, noNaN: true }),
        (values, scale) => {
          const before = evennessVerdicts(
            values.map((value) => ({ value, uOwn: 0.01 * value })),
            5,
          );
          const after = evennessVerdicts(
            values.map((value) => ({ value: scale * value, uOwn: 0.01 * scale * value })),
            5,
          );
          for (const [i, verdict] of before.entries())
            expect(after[i]?.deviationPercent).toBeCloseTo(verdict.deviationPercent, 9);
        },
      ),
    );
  });
});

describe('side statistics', () => {
  it('agree with a statistics library', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 100, max: 2000, noNaN: true }), { minLength: 2, maxLength: 40 }),
        (values) => {
          const side = sideStatistics(values);
          expect(side.mean).toBeCloseTo(mean(values), 8);
          expect(side.standardDeviation).toBeCloseTo(sampleStandardDeviation(values), 6);
          expect(side.median).toBeCloseTo(medianOf(values), 9);
          expect(scaledMad(values)).toBeCloseTo(1.4826022185056018 * mad(values), 8);
        },
      ),
    );
  });

  it('say which percentage of what: four spokes by hand', () => {
    // 900, 1000, 1000, 1100: deviations 100, 0, 0, 100 of a mean of 1000.
    const { percent } = sideStatistics([900, 1000, 1000, 1100]);
    expect(percent.range).toBeCloseTo(20, 9);
    expect(percent.meanAbsoluteDeviation).toBeCloseTo(5, 9);
    expect(percent.maximumDeviation).toBeCloseTo(10, 9);
    expect(percent.standardDeviation).toBeCloseTo(Math.sqrt(20000 / 3) / 10, 9);
  });

  it('of a single spoke have no spread', () => {
    expect(sideStatistics([1000]).standardDeviation).toBeUndefined();
    expect(() => sideStatistics([])).toThrow('side of no spokes');
  });
});

describe('outliers', () => {
  // Analytical Methods Committee, copper in wholemeal flour, 24 values (Analyst 114 (1989) 1693; data from memory).
  const COPPER = [
    2.2, 2.2, 2.4, 2.4, 2.5, 2.7, 2.8, 2.9, 3.03, 3.03, 3.1, 3.37, 3.4, 3.4, 3.4, 3.5, 3.6, 3.7, 3.7, 3.7, 3.7, 3.77,
    5.28, 28.95,
  ];

  it('of the copper data are the two that its authors call out, by median 3.385 and MAD 0.526323', () => {
    expect(median(COPPER)).toBeCloseTo(3.385, 9);
    expect(scaledMad(COPPER)).toBeCloseTo(0.526323, 5);
    expect(
      findOutliers(
        COPPER,
        COPPER.map(() => 0),
      ).map((one) => COPPER[one.index]),
    ).toEqual([5.28, 28.95]);
  });

  it('are not made of noise on a side evener than the readings are sure', () => {
    const values = [1000, 1000, 1000, 1000, 1000.1, 1005];
    expect(
      findOutliers(
        values,
        values.map(() => 10),
      ),
    ).toEqual([]);
    expect(
      findOutliers(
        values,
        values.map(() => 0.1),
      ).map((one) => one.index),
    ).toEqual([5]);
  });
});

describe('the ratio of the sides', () => {
  const dished = laced({ effective: 602, pitch: 45, centre: [35, 18], count: 32, crosses: [3, 3], hole: 2.6 });
  const laid = expandLayout(dished);
  const spokes = laid.ok ? laid.spokes : [];

  it('is what lateral equilibrium demands of a dished wheel', () => {
    // sin 3.513932° / sin 6.808990° from the trade's length formula, evaluated by another program: 0.516965.
    expect(expectedSideRatio(spokes)?.ratio).toBeCloseTo(0.516965, 6);
  });

  it('halves when one side has twice the spokes', () => {
    const layout = laced(
      { effective: 602, pitch: 45, centre: [25, 25], count: 24, crosses: [0, 0], hole: 2.6 },
      { pattern: 'twoToOne', moreSide: 'right' },
    );
    const uneven = expandLayout(layout);
    expect(uneven.ok && expectedSideRatio(uneven.spokes)?.ratio).toBeCloseTo(2, 3);
  });

  it('of readings agrees or not with what flanges and dish leave open', () => {
    const expected = expectedSideRatio(spokes);
    if (!expected) throw new Error('no ratio');
    const same = (tension: number) => Array.from({ length: 16 }, () => reading(tension));
    expect(sideRatio(expected, { left: same(517), right: same(1000) }, true)?.agrees).toBe(true);
    const off = sideRatio(expected, { left: same(800), right: same(1000) }, true);
    expect(off?.agrees).toBe(false);
    expect(off?.offPercent).toBeCloseTo(100 * (0.8 / 0.516965 - 1), 3);
  });

  it('is surer when both sides share the error of mass', () => {
    const expected = { ratio: 0.5, u: 0.01 };
    const contributions = [{ input: 'mass' as const, uN: newtons(19), scope: 'common' as const }];
    const one = [reading(1000, 5, 20, { contributions })];
    const same = sideRatio(expected, { left: one, right: one }, true)?.measured.u ?? 0;
    const different = sideRatio(expected, { left: one, right: one }, false)?.measured.u ?? 0;
    expect(same).toBeLessThan(different / 2);
  });

  it('is not computed where no angle is known', () => {
    const sides = expandLayout({ kind: 'evenness', sides: ['left', 'right', 'left', 'right'] });
    expect(sides.ok ? expectedSideRatio(sides.spokes) : 0).toBeUndefined();
  });
});

describe('what to do next', () => {
  it('is to hear again what was refused, unsettled, ill-fitting or much less sure than its fellows', () => {
    const readings = new Map<number, Reading | { ok: false; reason: 'noTones' }>([
      [1, reading(1000)],
      [2, reading(1000)],
      [3, { ok: false, reason: 'noTones' }],
      [4, reading(1000, 10, 20, { agreement: 1e-5 })],
      [5, reading(1000, 30)],
    ]);
    expect(nextSteps(readings, [7]).hearAgain).toEqual([
      { spoke: 3, because: 'refused' },
      { spoke: 4, because: 'poorFit' },
      { spoke: 5, because: 'uncertain' },
      { spoke: 7, because: 'unsettled' },
    ]);
  });

  it('is the ruler when the length is most of the variance', () => {
    const contributions = [
      { input: 'length' as const, uN: newtons(24), scope: 'common' as const },
      { input: 'mass' as const, uN: newtons(18), scope: 'common' as const },
      { input: 'frequency' as const, uN: newtons(1), scope: 'own' as const },
    ];
    const { narrow } = nextSteps(new Map([[1, reading(1000, 10, 30, { contributions })]]), []);
    expect(narrow.map((step) => step.remedy)).toEqual(['measureLength', 'weighSpoke']);
    expect(narrow[0]?.share).toBeCloseTo(576 / 901, 9);
  });
});
