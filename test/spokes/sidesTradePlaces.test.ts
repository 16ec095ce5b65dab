import { describe, expect, it } from 'vitest';
import { sidesTradePlaces } from '../../src/spokes/sidesTradePlaces.ts';
import { seededRandom } from '../signals/random.ts';
import { type HeardWheel, heardRound, type Traded } from './heardRound.ts';

/** Work, not waiting: some thousand rounds. */
const LIMIT_MS = 120_000;
/** From flanges as unlike as any are to sides alike, `common practice`. */
const RATIOS = [0.4, 0.45, 0.5, 0.62, 0.8, 0.9, 1] as const;
/** Relative standard deviation of tension, and how many spokes are far off. */
const WHEELS = [
  { scatter: 0.015, off: 0 },
  { scatter: 0.015, off: 4 },
  { scatter: 0.05, off: 4 },
] as const;
/** Of runs of four spokes and more; by chance both of a run's sides may miss their first tones. */
const LEAST_TOLD = 0.95;
const COUNTS = [16, 20, 24, 28, 32, 36] as const;

const roundsOf = (wheel: Omit<HeardWheel, 'count'>, rounds: number, slipOf: (count: number) => Traded | undefined) =>
  Array.from({ length: rounds }, (_, seed) => {
    const count = seededRandom(`count ${seed}`).pick(COUNTS);
    const slip = slipOf(count);
    const name = `${wheel.leftOverRight} ${wheel.scatter} ${wheel.off} ${seed}`;
    return { name, slip, told: sidesTradePlaces(heardRound(`${name} ${slip?.length}`, { ...wheel, count }, slip)) };
  });

describe('sides that have each other’s tones', () => {
  it(
    'are not told where nothing slipped: slack and tight spokes, missing partials, strays and any difference of the sides',
    () => {
      // By Markov's inequality less than one round in a thousand; of 420 then none, or one with a chance of a third.
      const told = RATIOS.flatMap((leftOverRight) =>
        WHEELS.flatMap((wheel) => roundsOf({ ...wheel, leftOverRight }, 20, () => undefined)),
      ).filter((round) => round.told !== undefined);
      expect(told.map(({ name }) => name)).toEqual([]);
    },
    LIMIT_MS,
  );

  it.each([0.4, 0.5, 0.62, 0.8])(
    'left over right %f: a slip whose run lasts for four spokes or more is told, nearly always',
    (leftOverRight) => {
      const rounds = ([4, 6, 10] as const).flatMap((length) =>
        ([1, -1] as const).flatMap((by) => [
          ...roundsOf({ ...WHEELS[0], leftOverRight }, 6, (count) => ({ from: count - length, length, by })),
          ...roundsOf({ ...WHEELS[0], leftOverRight }, 6, (count) => ({ from: count - length - 3, length, by })),
        ]),
      );
      const found = rounds.filter(({ told }) => told !== undefined);
      console.log(`left over right ${leftOverRight}: ${found.length} of ${rounds.length} slips told`);
      expect(found.length / rounds.length).toBeGreaterThanOrEqual(LEAST_TOLD);
      // A spoke beside the run that is far off may be counted to it; on even wheels the run is named as it is.
      for (const { told, slip, name } of found)
        expect(Math.abs((told?.from ?? 0) - 1 - (slip?.from ?? 0)), name).toBeLessThanOrEqual(1);
    },
    LIMIT_MS,
  );
});
