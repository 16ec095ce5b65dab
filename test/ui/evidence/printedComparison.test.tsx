// @vitest-environment happy-dom

import quantile from '@stdlib/stats-base-dists-t-quantile';
import { cleanup, screen } from '@testing-library/preact';
import { linearRegression, mean, sampleCovariance, sampleVariance, sum } from 'simple-statistics';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { prepareMember } from '../../../src/physics/prepareMember.ts';
import type { Gauge } from '../../../src/spokes/gauge.ts';
import { writeReadings } from '../../../src/spokes/readingsFile.ts';
import { readRound } from '../../../src/spokes/readRound.ts';
import { rememberPrepared } from '../../../src/spokes/rememberPrepared.ts';
import type { Wheel } from '../../../src/spokes/wheel.ts';
import Report from '../../../src/ui/screens/evidence/Report.tsx';
import { plainWheel } from '../../spokes/plainWheel.ts';
import { SIMULATED, simulatedRound } from '../../spokes/simulatedRound.ts';
import { showScreen } from './showScreen.tsx';

const N_PER_KGF = 9.80665;
/** Invented: a gauge that reads 3 % and half a kgf high, each spoke twice, with a scatter of its own. */
const gauge: Gauge = {
  id: 'g',
  name: 'Bench gauge',
  scale: 'direct',
  unit: 'kgf',
  uPercent: 3,
  calibrated: 'this winter',
  rounds: [0, 1].map((again) => ({
    id: `gr${again}`,
    at: `2026-02-04T1${again}:00:00.000Z`,
    state: { tyre: 'off' } as const,
    readings: SIMULATED.truth.map((tensionN, i) => ({
      spoke: i + 1,
      values: [Math.round((1.03 * tensionN) / N_PER_KGF + 0.5 + (((7 * i + 5 * again) % 11) - 5) / 4)],
    })),
  })),
};
const bare = plainWheel({ gauges: [gauge] });
const wheel: Wheel = { ...bare, rounds: [simulatedRound(bare)] };

interface Stored {
  readonly spokes: readonly { readonly spoke: number; readonly tensionN: number; readonly uOwnN: number }[];
}
/** Ear's tensions as the archive hands them out, and the gauge's as typed. */
function pairsOf(side: 'left' | 'right', stored: Stored) {
  // The plain wheel's odd places sit on the right.
  return stored.spokes
    .filter(({ spoke }) => (spoke % 2 === 1) === (side === 'right'))
    .map(({ spoke, tensionN, uOwnN }) => ({
      ear: tensionN,
      uOwnN,
      repeats: gauge.rounds.map(({ readings }) => N_PER_KGF * (readings[spoke - 1]?.values[0] ?? 0)),
    }));
}

/** Everything anew, by the papers' formulas and a statistics library. */
function recomputed(pairs: ReturnType<typeof pairsOf>) {
  const n = pairs.length;
  const ear = pairs.map((pair) => pair.ear);
  const other = pairs.map(({ repeats }) => mean([...repeats]));
  const d = ear.map((value, i) => value - (other[i] ?? 0));
  // Two readings of a spoke: variance within is half the mean squared difference. Bland & Altman (1999), 5.1.
  const within = mean(pairs.map(({ repeats: [a = 0, b = 0] }) => (a - b) ** 2 / 2));
  const variance = sampleVariance(d) + 0.5 * within;
  const sd = Math.sqrt(variance);
  const t = (degrees: number) => quantile(0.975, degrees);
  // Of a variance with ν degrees of freedom: 2 σ⁴ / ν; (1999), 5.1, as the sum of both parts.
  const varianceOfVariance = (2 * sampleVariance(d) ** 2) / (n - 1) + (2 * (0.5 * within) ** 2) / n;
  const seLimit = Math.sqrt(sampleVariance(d) / n + (1.96 ** 2 * varianceOfVariance) / (4 * variance));
  const around = (value: number, half: number) => [value, value - half, value + half];
  const means = ear.map((value, i) => (value + (other[i] ?? 0)) / 2);
  const { m, b } = linearRegression(means.map((value, i) => [value, d[i] ?? 0]));
  const residual = sum(means.map((value, i) => ((d[i] ?? 0) - b - m * value) ** 2)) / (n - 2);
  const uSlope = Math.sqrt(residual / ((n - 1) * sampleVariance(means)));
  // Scaled so that both scatter alike, Deming's line is the longer axis of the cloud. The gauge is a mean of two.
  const ratio = mean(pairs.map(({ uOwnN }) => uOwnN ** 2)) / (within / 2);
  const axis = (x: readonly number[], y: readonly number[]) => {
    const scaled = y.map((value) => value / Math.sqrt(ratio));
    const turn = 2 * sampleCovariance([...x], scaled);
    return Math.sqrt(ratio) * Math.tan(0.5 * Math.atan2(turn, sampleVariance([...x]) - sampleVariance(scaled)));
  };
  const slope = axis(other, ear);
  const without = ear.map((_, i) =>
    axis(
      other.filter((__, j) => j !== i),
      ear.filter((__, j) => j !== i),
    ),
  );
  // Jackknife: (n − 1)/n Σ (bᵢ − b̄)². Efron & Tibshirani, An Introduction to the Bootstrap (1993), eq. 11.5.
  const uDeming = Math.sqrt(((n - 1) / n) * sum(without.map((one) => (one - mean(without)) ** 2)));
  return {
    'Mean difference (bias)': around(mean(d), t(n - 1) * Math.sqrt(sampleVariance(d) / n)),
    'Standard deviation, single readings': [sd],
    'Lower limit of agreement': around(mean(d) - 1.96 * sd, t(n - 1) * seLimit),
    'Upper limit of agreement': around(mean(d) + 1.96 * sd, t(n - 1) * seLimit),
    'Change of the difference with tension, N per N': around(m, t(n - 2) * uSlope),
    'Ear on gauge (Deming): slope': around(slope, t(n - 2) * uDeming),
    'Deming: ratio of variances': [ratio],
  };
}

describe('what the report prints of two methods', () => {
  let stored: Stored;
  beforeAll(async () => {
    const [round] = wheel.rounds;
    if (!round) throw new RangeError('a round');
    const { readings } = readRound(wheel, round, rememberPrepared(prepareMember));
    stored = JSON.parse(writeReadings('a test', round.id, readings)) as Stored;
    showScreen(wheel, Report);
    await screen.findByRole('region', { name: 'Left side' }, { timeout: 60_000 });
  }, 90_000);
  afterAll(cleanup);

  const printed = (side: 'left' | 'right') => {
    const rows = document.querySelectorAll(`section[aria-label="${side === 'left' ? 'Left' : 'Right'} side"] tbody tr`);
    return new Map(
      [...rows].map((row) => [row.querySelector('th')?.textContent ?? '', row.querySelector('td')?.textContent ?? '']),
    );
  };
  /** The figures of a cell as written, each with half a unit of its last digit. */
  const figures = (cell: string) =>
    [...cell.replace(/−/g, '-').matchAll(/-?\d+(?:\.(\d+))?/g)].map(([figure, decimals = '']) => ({
      value: Number(figure),
      half: 0.5 * 10 ** -decimals.length,
    }));

  it.each(['left', 'right'] as const)(
    'on the %s side is what the stored readings give by the published formulas',
    (side) => {
      expect(stored.spokes).toHaveLength(32);
      const pairs = pairsOf(side, stored);
      expect(pairs).toHaveLength(16);
      const cells = printed(side);
      for (const [name, wanted] of Object.entries(recomputed(pairs))) {
        const shown = figures(cells.get(name) ?? '');
        expect(shown.length, name).toBe(wanted.length);
        for (const [i, { value, half }] of shown.entries()) {
          // 1.96 for the exact factor is 2 parts in 100 000.
          const exact = wanted[i] ?? Number.NaN;
          expect(Math.abs(value - exact), `${name}: ${cells.get(name)}, ${exact}`).toBeLessThanOrEqual(
            half + 4e-5 * Math.abs(exact),
          );
        }
      }
    },
  );
});
