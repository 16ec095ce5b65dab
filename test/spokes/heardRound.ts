import type { spokePitches } from '../../src/spokes/spokePitches.ts';
import type { Pluck, Side } from '../../src/spokes/wheel.ts';
import { decibels, hertz, seconds } from '../../src/units.ts';
import { type Random, seededRandom } from '../signals/random.ts';
import { pluck } from './pluck.ts';

type Places = Parameters<typeof spokePitches>[0];

/** A wheel whose sides take turns, as an ear hears it that misses partials and takes in strays. */
export interface HeardWheel {
  readonly count: number;
  /** Tension of the left side over the right one's. */
  readonly leftOverRight: number;
  /** Relative standard deviation of tension on a side. */
  readonly scatter: number;
  /** So many spokes are slack or tight by far: 50–88 % or 112–140 % of their side. */
  readonly off: number;
}
/** From this index on, so many spokes stand with the tones of the next, or of the one before. */
export interface Traded {
  readonly from: number;
  readonly length: number;
  readonly by: 1 | -1;
}

const RIGHT_N = 1000;
const RIGHT_HZ = 420;
/** B of f_m = m f₁ √(1 + B m²) for a wire of 1.8 mm, 0.2 m free, 800 N: π² EI/(T L²) = 0.032 pinned; half of it is taken for butts and hold. */
const STIFFNESS = 0.02;
const STIFFNESS_AT_N = 800;
const MODES = 6;
/** How often a partial is not heard, its first more often than the others. */
const LACKS_FIRST = 0.12;
const LACKS = 0.08;
const DOUBLET = 0.6;
const STRAY = 0.3;
/** Relative standard deviations of frequency: of a spoke's ends, of a pluck, of a tone. */
const ENDS = 0.004;
const REPEATS = 0.001;
const TONE = 3e-4;
const FAINTEST = 0.03;

/** Two plucks a spoke that agree, in the order of the walk. */
export function heardRound(seed: string, wheel: HeardWheel, slip?: Traded): Places {
  const random = seededRandom(`heard|${seed}`);
  const sides = Array.from({ length: wheel.count }, (_, i): Side => (i % 2 === 0 ? 'left' : 'right'));
  const tensions = sides.map(
    (side) => RIGHT_N * (side === 'left' ? wheel.leftOverRight : 1) * (1 + random.normal(0, wheel.scatter)),
  );
  for (let n = 0; n < wheel.off; n++) {
    const i = random.integer(0, wheel.count - 1);
    tensions[i] = (tensions[i] ?? 0) * (random.chance(0.6) ? random.uniform(0.5, 0.88) : random.uniform(1.12, 1.4));
  }
  const ends = sides.map(() => random.normal(0, ENDS));
  return sides.map((side, i) => {
    const inRun = slip !== undefined && i >= slip.from && i < slip.from + slip.length;
    const of = inRun ? (i + slip.by + wheel.count) % wheel.count : i;
    const plucks = [1, 2].map((n) => heardPluck(random, `${i}-${n}`, i + 1, tensions[of] ?? 0, ends[of] ?? 0));
    return { spoke: i + 1, side, plucks };
  });
}

function heardPluck(random: Random, id: string, spoke: number, tensionN: number, end: number): Pluck {
  const firstHz = RIGHT_HZ * Math.sqrt(tensionN / RIGHT_N) * (1 + end) * (1 + random.normal(0, REPEATS));
  const stiffness = (STIFFNESS * STIFFNESS_AT_N) / tensionN;
  const place = random.uniform(0.4, 0.6);
  const loud: { hz: number; amplitude: number }[] = [];
  for (let mode = 1; mode <= MODES; mode++) {
    if (random.chance(mode === 1 ? LACKS_FIRST : LACKS)) continue;
    const stretched = Math.sqrt((1 + stiffness * mode ** 2) / (1 + stiffness));
    const hz = mode * firstHz * stretched * (1 + random.normal(0, TONE));
    const amplitude = (Math.abs(Math.sin(mode * Math.PI * place)) / mode) * Math.exp(random.normal(0, 0.4));
    loud.push({ hz, amplitude });
    if (random.chance(DOUBLET))
      loud.push({ hz: hz * (1 - random.uniform(0.002, 0.012)), amplitude: amplitude * random.uniform(0.1, 0.3) });
  }
  if (random.chance(STRAY)) loud.push({ hz: random.logUniform(200, 3000), amplitude: random.uniform(0.05, 0.4) });
  const loudest = Math.max(...loud.map(({ amplitude }) => amplitude));
  const tones = loud
    .filter(({ amplitude }) => amplitude > FAINTEST * loudest)
    .toSorted((a, b) => a.hz - b.hz)
    .map(({ hz, amplitude }) => ({
      frequencyHz: hertz(hz),
      uHz: hertz(2e-4 * hz),
      levelDb: decibels(20 * Math.log10(amplitude)),
      decayS: seconds(0.4),
      snrDb: decibels(30),
    }));
  return { ...pluck(id, firstHz), spoke, tones, covarianceHz2: [] };
}
