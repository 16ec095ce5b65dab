import { modes } from '../../src/physics/modes.ts';
import { catalogueKind } from '../../src/spokes/catalogue.ts';
import { describeSpare } from '../../src/spokes/describeSpare.ts';
import type { Calibration, Pluck, Wheel } from '../../src/spokes/wheel.ts';
import { hertz, newtonMetresPerRadian, newtons } from '../../src/units.ts';
import { plainWheel } from '../spokes/plainWheel.ts';
import { pluck } from '../spokes/pluck.ts';
import { SIMULATED, simulatedRound } from '../spokes/simulatedRound.ts';

const KIND = catalogueKind('2.0-1.8');
const END = { inPlane: newtonMetresPerRadian(12), across: newtonMetresPerRadian(9) };

/** Tones of a loose spoke under a load, from the exact modes of the described member. */
function spareTones(wheel: Wheel, spare: Calibration): Pluck {
  const loose = describeSpare(wheel, 'left', spare);
  if (!loose.ok) throw new Error(loose.reason);
  const found = modes(
    loose.described.member,
    newtons(spare.loadN),
    { hub: END, rim: END },
    'inPlane',
    { kind: 'none' },
    4,
  );
  const base = pluck('loose', 400);
  const tones = base.tones.map((tone, i) => ({ ...tone, frequencyHz: hertz(found[i] ?? tone.frequencyHz) }));
  return {
    ...base,
    spoke: 1,
    how: { crossing: 'none', direction: 'inPlane' },
    tones,
    covarianceHz2: tones.map((one, i) => tones.map((_, j) => (i === j ? one.uHz ** 2 : 0))),
  };
}

/**
 * A dished wheel of butted spokes, everything invented: heard before it was trued and after, with known tensions of every outcome, a gauge
 * with a chart that was put on some spokes, and limits of its maker.
 */
export function evidenceWheel(): Wheel {
  const limits = {
    minimumN: 400,
    maximumN: 1150,
    unit: 'N',
    source: 'an invented maker’s sheet',
    state: { tyre: 'off' },
  } as const;
  const bare = plainWheel(
    { id: 'evidence', name: 'Rear, 32, three-cross, butted', note: 'Invented for a printed report' },
    { limits },
    KIND,
  );
  const after = SIMULATED.truth;
  const before = after.map((tensionN, i) => tensionN * (0.86 + 0.01 * ((5 * i) % 9)));
  const rounds = [
    { ...simulatedRound(bare, before), id: 'before', startedAt: '2026-02-03T09:10:00Z', person: 'A. N.' },
    { ...simulatedRound(bare, after), id: 'after', startedAt: '2026-02-04T16:40:00Z', person: 'A. N.' },
  ];
  const own = { kind: 'inWheel', uLoadN: 12, method: 'load cell in its nipple' } as const;
  const loose = {
    kind: 'spare',
    kindId: KIND.id,
    supportLengthMm: 280,
    threadEnd: 'nipple',
    uLoadN: 1,
    method: 'hung weights',
  } as const;
  const hung: Calibration = { ...loose, id: 'hung', loadN: 784.5 };
  const calibrations: readonly Calibration[] = [
    { ...own, id: 'one', spoke: 3, loadN: after[2] ?? 0, roundId: 'after' },
    { ...own, id: 'two', spoke: 8, loadN: after[7] ?? 0, roundId: 'after' },
    { ...own, id: 'gone', spoke: 6, loadN: 500, roundId: 'nowhere' },
    { ...hung, pluck: spareTones(bare, hung) },
    { ...own, id: 'none', spoke: 33, loadN: 500 },
  ];
  const points = [14, 16, 18, 20, 22, 24, 26].map((reading, i) => ({
    reading,
    tension: [30, 42, 56, 72, 90, 112, 140][i] ?? 0,
  }));
  const chart = { section: '1.8 mm round steel', unit: 'kgf', points } as const;
  return {
    ...bare,
    calibrations,
    rounds,
    gauges: [
      {
        id: 'g',
        name: 'Bench gauge',
        scale: 'chart',
        unit: 'kgf',
        charts: { left: chart, right: chart },
        uPercent: 3,
        calibrated: 'this winter, hung weights',
        rounds: [
          {
            id: 'gr',
            at: '2026-02-04T17:20:00Z',
            state: { tyre: 'off' },
            readings: after.map((tensionN, i) => ({
              spoke: i + 1,
              values: [markAt(points, tensionN, 1.02), markAt(points, tensionN, 1.01)],
            })),
          },
        ],
      },
    ],
  };
}

/** The mark that a gauge which shows `factor` of the tension would give, by straight lines between the chart's points. */
function markAt(
  points: readonly { readonly reading: number; readonly tension: number }[],
  tensionN: number,
  factor: number,
): number {
  const kgf = (factor * tensionN) / 9.80665;
  const upper = points.findIndex((point) => point.tension >= kgf);
  const [a, b] = [points[upper - 1], points[upper]];
  if (!a || !b) throw new RangeError(`${kgf} kgf lies beyond the chart`);
  return Number((a.reading + ((kgf - a.tension) * (b.reading - a.reading)) / (b.tension - a.tension)).toFixed(2));
}
