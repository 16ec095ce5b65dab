import { fitSides } from './fitSides.ts';
import { type SpokePitch, spokePitches } from './spokePitches.ts';

/** Spokes in a row with the other side's tones, at least: one alone may just be slack or tight. */
const LEAST_RUN = 2;
/**
 * The tones must be so much likelier with a slip than without one, in the mean over all places where it may have been. Without a slip that happens
 * in one round of so many at most, whatever the prior is (Markov's inequality: the mean of that ratio is then 1), as far as the likelihood is true:
 * its middles and scatter are fitted, so that this is a guide, and what counts is how often it happens on simulated rounds.
 */
const LEAST_RATIO = 1000;

interface Run {
  /** Indices of the first spoke and of the one after the last. */
  readonly from: number;
  readonly to: number;
  /** ln likelihood over that without a slip. */
  readonly gain: number;
}

/**
 * The run of places where left spokes sound as right ones do and the other way round: what a slip leaves behind where sides take turns.
 *
 * Every run is weighed against none by the likelihood of all spokes' pitches, each side with its own middle and a common scatter. A slip after
 * which nothing sets the hand right, whose run lasts to the end, and two with a run between them are taken as equally likely, and so are all
 * places of either; of the runs that end short ones are likelier.
 *
 * @param places In the order of the walk, with the plucks that agree.
 * @returns the first spoke of the run and, where the sides are right again before the end, the last; undefined if nothing is clear
 */
export function sidesTradePlaces(
  places: Parameters<typeof spokePitches>[0],
): { readonly from: number; readonly to?: number } | undefined {
  const known = spokePitches(places);
  if (!bothSides(known)) return undefined;
  const straight = fitSides(
    known,
    known.map(({ isLeft }) => isLeft),
  );
  const runs = runsOf(known).map((run): Run => ({ ...run, gain: fitSides(known, traded(known, run)) - straight }));
  const lasting = runs.filter(({ to }) => to === known.length);
  const ending = runs.filter(({ to }) => to < known.length);
  const ratio = (meanRatio(lasting, () => 1) + meanRatio(ending, shorterLikelier)) / 2;
  if (!(ratio > LEAST_RATIO)) return undefined;
  const best = runs.reduce((one, other) => (other.gain > one.gain ? other : one));
  const [from, last, next] = [known[best.from], known[best.to - 1], known[best.to]];
  return from && { from: from.spoke, ...(next && last ? { to: last.spoke } : {}) };
}

/** From the second spoke on: a run at the start and the rest after it are told apart by nothing. */
function runsOf(known: readonly SpokePitch[]): readonly Omit<Run, 'gain'>[] {
  const runs: Omit<Run, 'gain'>[] = [];
  for (let from = 1; from < known.length; from++)
    for (let to = from + LEAST_RUN; to <= known.length; to++)
      if (bothSides(known.slice(from, to)) && bothSides([...known.slice(0, from), ...known.slice(to)]))
        runs.push({ from, to });
  return runs;
}

/** Whoever slips back, or notices, does so soon: as likely within twice a length as within that length. */
const shorterLikelier = ({ from, to }: Run): number => 1 / (to - from);

const traded = (known: readonly SpokePitch[], { from, to }: Omit<Run, 'gain'>): readonly boolean[] =>
  known.map(({ isLeft }, i) => isLeft === (i < from || i >= to));

/** Where one side is walked after the other, a slip trades nothing; and all traded is nothing traded: which side is which, pitch does not know. */
const bothSides = (run: readonly SpokePitch[]): boolean =>
  run.some((one) => one.isLeft) && run.some((one) => !one.isLeft);

/** Likelihood over that without a slip, in the mean over runs by their weights. */
function meanRatio(runs: readonly Run[], weightOf: (run: Run) => number): number {
  const weights = runs.map(weightOf);
  const sum = weights.reduce((all, one) => all + one, 0);
  return sum === 0 ? 0 : runs.reduce((all, { gain }, i) => all + (weights[i] ?? 0) * Math.exp(gain), 0) / sum;
}
