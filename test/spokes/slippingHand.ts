import { resumeWalk, type Walk, walkRound } from '../../src/spokes/walkRound.ts';
import type { Pluck, Round, RoundOrder, Side } from '../../src/spokes/wheel.ts';
import { hertz } from '../../src/units.ts';
import { type Random, seededRandom } from '../signals/random.ts';
import { pluck } from './pluck.ts';

/** A wheel of which only its tones matter here. */
export interface TonedWheel {
  readonly sides: readonly Side[];
  /** First tone of each spoke, by place. */
  readonly firstHz: readonly number[];
}

/** Tensions scatter by `scatter` (relative standard deviation) about their side's; left and right take turns round the rim. */
export function tonedWheel(
  seed: string | number,
  settings: { readonly count: number; readonly leftOverRight: number; readonly scatter: number },
): TonedWheel {
  const random = seededRandom(`toned|${seed}`);
  const sides = Array.from({ length: settings.count }, (_, i): Side => (i % 2 === 0 ? 'left' : 'right'));
  const firstHz = sides.map(
    (side) =>
      420 * Math.sqrt((side === 'left' ? settings.leftOverRight : 1) * (1 + random.normal(0, settings.scatter))),
  );
  return { sides, firstHz };
}

/** What the hand does wrong; spokes count from 1 in the order of the walk. */
export interface Slip {
  /** After this spoke is done it is plucked once more. */
  readonly extraAt?: number;
  /** This spoke gets one pluck too few: the hand goes on after the first. */
  readonly shortAt?: number;
  /** This spoke is passed over. */
  readonly passedAt?: number;
}
export interface Walked {
  readonly walk: Walk;
  /** Which spoke each pluck really was of, by the pluck's id. */
  readonly of: ReadonlyMap<string, number>;
}

/** Relative standard deviation of a spoke's tones from pluck to pluck. */
const REPEATS = 0.001;
/** How often a pluck lacks a given partial; its first tone more often than the others. */
const LACKS = [0.2, 0.1, 0.1, 0.1];
/** A hand that is asked for ever gives up. */
const PATIENCE = 8;

/**
 * Walks a round with a hand that never looks at the screen. `counting`: it gives every spoke its number of plucks and goes on.
 * `listening`: it goes on at the sound that says settled. Either way it plucks the first spoke at the end, and again as long as the app
 * is not content.
 */
export function walkSlipping(
  seed: string | number,
  wheel: TonedWheel,
  slip: Slip,
  how: { readonly hand: 'counting' | 'listening'; readonly order?: RoundOrder; readonly plucksToSettle?: number },
): Walked {
  const random = seededRandom(`hand|${seed}`);
  const plucksToSettle = how.plucksToSettle ?? 2;
  const round: Round = {
    id: 'r',
    startedAt: '2026-01-01T00:00:00Z',
    how: { crossing: 'held', direction: 'inPlane' },
    state: { tyre: 'off' },
    order: how.order ?? 'byPlace',
    plucksToSettle,
    plucks: [],
    skipped: [],
  };
  let walk = resumeWalk(round, wheel.sides);
  const of = new Map<string, number>();
  const places = wheel.sides.map((_, i) => i + 1);
  const onSide = (side: Side) => places.filter((place) => wheel.sides[place - 1] === side);
  const order = how.order === 'leftThenRight' ? [...onSide('left'), ...onSide('right')] : places;
  /** Whether the app gave its sound for a settled spoke. */
  const hear = (spoke: number): boolean => {
    const id = `p${of.size}`;
    of.set(id, spoke);
    const heard = pluckOf(random, id, wheel.firstHz[spoke - 1] ?? Number.NaN);
    const step = walkRound(walk, { kind: 'pluckHeard', pluck: heard });
    walk = step.walk;
    return step.outcome === 'settled' || step.outcome === 'closed';
  };
  order.forEach((spoke, i) => {
    const at = i + 1;
    if (slip.passedAt === at) return;
    if (slip.shortAt === at) hear(spoke);
    else if (how.hand === 'counting') for (let n = 0; n < plucksToSettle; n++) hear(spoke);
    else for (let n = 0; n < PATIENCE && !hear(spoke); n++);
    if (slip.extraAt === at) hear(spoke);
  });
  const [first = 1] = order;
  for (let n = 0; n < PATIENCE && walk.phase !== 'finished'; n++) hear(first);
  return { walk, of };
}

function pluckOf(random: Random, id: string, firstHz: number) {
  const missing = LACKS.flatMap((chance, i) => (random.chance(chance) ? [i + 1] : []));
  const whole = pluck(id, firstHz * (1 + random.normal(0, REPEATS)), missing.length < 4 ? { missing } : {});
  return {
    ...whole,
    tones: whole.tones.map((tone) => ({
      ...tone,
      frequencyHz: hertz(tone.frequencyHz * (1 + random.normal(0, REPEATS / 4))),
    })),
  };
}

/** Places that stand with a tone which is not their own, by more than two plucks of one spoke differ. */
export function misplaced(
  { walk, of }: Walked,
  wheel: TonedWheel,
  settled: (spoke: number) => readonly Pluck[],
): number[] {
  const tolerance = 0.005;
  return walk.sides.flatMap((_, i) => {
    const plucks = settled(i + 1);
    if (plucks.length === 0) return [];
    const own = Math.log(wheel.firstHz[i] ?? Number.NaN);
    const heard = plucks.reduce(
      (sum, one) => sum + Math.log(wheel.firstHz[(of.get(one.id) ?? 0) - 1] ?? Number.NaN),
      0,
    );
    return Math.abs(heard / plucks.length - own) > tolerance ? [i + 1] : [];
  });
}
