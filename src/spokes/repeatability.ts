import { withinVariance } from './agreement.ts';
import { type Interval, intervalAround } from './interval.ts';
import { studentFactor } from './studentT.ts';

/** One walk round the wheel by one method: values by spoke, one unit. */
export interface RepeatedRound {
  /** Who heard it and with what: rounds of one person and device are repeats, the rest are reproductions. */
  readonly by: string;
  readonly values: ReadonlyMap<number, number>;
}

export interface Repeatability {
  readonly spokes: number;
  readonly rounds: number;
  /** Within-spoke standard deviation, mean changes between rounds included. */
  readonly withinSd: number;
  readonly degrees: number;
  /** Two readings of a spoke differ by less than this 95 times in a hundred: 1.96 √2 s. */
  readonly coefficient: number;
  /** Same, after each round's mean change is taken out: what remains if drift is known. */
  readonly withinSdNoDrift: number;
  /** Mean change from the first round to each later one. */
  readonly drifts: readonly Interval[];
}
export interface Reproducibility {
  /** Within one person and device. */
  readonly repeat: Repeatability;
  /** Standard deviation of one reading by anyone: √(s_r² + s_between²). */
  readonly reproducibilitySd: number;
  readonly betweenSd: number;
}

const Z = 1.959963984540054;

/**
 * How well rounds of the same wheel, untouched in between, repeat.
 *
 * @returns undefined if no spoke was read in two rounds.
 * @source Bland & Altman, Stat. Methods Med. Res. 8 (1999) 135, section 2 and 5 (within-subject standard deviation, repeatability coefficient)
 */
export function repeatability(rounds: readonly RepeatedRound[], confidence = 0.95): Repeatability | undefined {
  const [first] = rounds;
  const all = new Set(rounds.flatMap((round) => [...round.values.keys()]));
  const repeated = [...all]
    .map((spoke) => rounds.flatMap((round) => round.values.get(spoke) ?? []))
    .filter((values) => values.length > 1);
  if (first === undefined || repeated.length < 2) return undefined;
  const { variance, degrees } = withinVariance(repeated);
  const drifts = rounds.slice(1).map((round) => {
    const changes = [...round.values].flatMap(([spoke, value]) => {
      const before = first.values.get(spoke);
      return before === undefined ? [] : [value - before];
    });
    const mean = changes.reduce((sum, change) => sum + change, 0) / changes.length;
    const sd = Math.sqrt(changes.reduce((sum, change) => sum + (change - mean) ** 2, 0) / (changes.length - 1));
    return intervalAround(mean, (studentFactor(confidence, changes.length - 1) * sd) / Math.sqrt(changes.length));
  });
  const level = (round: RepeatedRound): number =>
    round === first ? 0 : (drifts[rounds.indexOf(round) - 1]?.value ?? 0);
  const steady = [...all]
    .map((spoke) =>
      rounds.flatMap((round) => (round.values.has(spoke) ? [(round.values.get(spoke) ?? 0) - level(round)] : [])),
    )
    .filter((values) => values.length > 1);
  const noDrift = withinVariance(steady);
  // Each drift was estimated from the same values: one degree of freedom each.
  const corrected = (noDrift.variance * noDrift.degrees) / Math.max(1, noDrift.degrees - drifts.length);
  return {
    spokes: repeated.length,
    rounds: rounds.length,
    withinSd: Math.sqrt(variance),
    degrees,
    coefficient: Z * Math.SQRT2 * Math.sqrt(variance),
    withinSdNoDrift: Math.sqrt(corrected),
    drifts,
  };
}

/**
 * Repeatability of one person and device, and reproducibility over several.
 *
 * The spread between is that of the means of each person and device over the spokes that all have read, less the part that repeatability puts into
 * those means.
 *
 * @returns undefined with fewer than two persons or devices, or without repeats by one of them.
 * @source ISO 5725-2:2019, 7.4 (s_R² = s_r² + s_L²; from memory)
 */
export function reproducibility(rounds: readonly RepeatedRound[]): Reproducibility | undefined {
  const groups = new Map<string, RepeatedRound[]>();
  for (const round of rounds) groups.set(round.by, [...(groups.get(round.by) ?? []), round]);
  const repeats = [...groups.values()].filter((group) => group.length > 1);
  if (groups.size < 2 || repeats.length === 0) return undefined;
  const each = repeats.flatMap((group) => repeatability(group) ?? []);
  const degrees = each.reduce((sum, one) => sum + one.degrees, 0);
  const [repeat] = each;
  if (repeat === undefined || degrees === 0) return undefined;
  const repeatVariance = each.reduce((sum, one) => sum + one.degrees * one.withinSd ** 2, 0) / degrees;
  const spokes = [...(rounds[0]?.values.keys() ?? [])].filter((spoke) =>
    rounds.every((round) => round.values.has(spoke)),
  );
  // Spoke by spoke: variance between the groups' means, less what repeats leave in them.
  const between = spokes.map((spoke) => {
    const means = [...groups.values()].map((group) => {
      const values = group.map((round) => round.values.get(spoke) ?? 0);
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    });
    const mean = means.reduce((sum, value) => sum + value, 0) / means.length;
    return means.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (means.length - 1);
  });
  const inMeans = [...groups.values()].reduce((sum, group) => sum + 1 / group.length, 0) / groups.size;
  const betweenVariance = Math.max(
    0,
    between.reduce((sum, value) => sum + value, 0) / between.length - repeatVariance * inMeans,
  );
  return {
    repeat: {
      ...repeat,
      withinSd: Math.sqrt(repeatVariance),
      degrees,
      coefficient: Z * Math.SQRT2 * Math.sqrt(repeatVariance),
    },
    reproducibilitySd: Math.sqrt(repeatVariance + betweenVariance),
    betweenSd: Math.sqrt(betweenVariance),
  };
}
