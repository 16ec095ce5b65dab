import type { Expected, ExpectedAtTension, Family, Plane } from '../contract.ts';
import type { SetTone, ToneSet } from './toneSet.ts';

/** The two planes of a spoke lie 0.1–1 % apart, and either may be the louder one: 0.3 % (1 σ) of each tone for itself. */
const OWN = 0.003;
/** The other plane's ends are other ends. */
const OTHER = 0.02;
/** Points of the grid in ln of the first tone. */
const POINTS = 192;
/** A rung stands for its neighbourhood of the ladder, this part of a step (1 σ). */
const BETWEEN = 0.5;
/** Rungs that have the first tone so unlikely (nats below the likeliest) do not count. */
const UNLIKELY = 12;

/** The tones of one plane, rung by rung. */
interface PlaneLadder {
  readonly plane: Plane;
  readonly count: number;
  readonly lnT: readonly number[];
  readonly tones: readonly (readonly Expected[])[];
  /** ln frequency of each tone. */
  readonly ln: readonly Float64Array[];
  /** Rise of each with ln tension. */
  readonly shares: readonly (readonly number[])[];
  /** Covariance of ln frequency, row-major. */
  readonly covariance: readonly Float64Array[];
}

const made = new WeakMap<readonly ExpectedAtTension[], ToneSet[]>();

/**
 * The expected tones of a described member as functions of ln of its first tone, one set for each plane.
 * At a tension all tones depart together where ends and lengths are others than described, and mostly so as another tension
 * would move them; at a known first tone little is left open. Each rung gives the other tones at that first tone by linear
 * regression; the rungs are mixed by how likely they make it.
 * @param ladder ascending in tension, at least two rungs.
 * @source Rasmussen and Williams 2006, app. A.2 (conditional Gaussian)
 */
export function ladderSets(ladder: readonly ExpectedAtTension[]): ToneSet[] {
  const known = made.get(ladder);
  if (known) return known;
  const planes = [...new Set((ladder[0] as ExpectedAtTension).tones.map((t) => t.plane))].map((p) =>
    laddersOf(ladder, p),
  );
  const sets = planes.map((own) =>
    setOf(
      own,
      planes.find((p) => p !== own),
    ),
  );
  made.set(ladder, sets);
  return sets;
}

function laddersOf(ladder: readonly ExpectedAtTension[], plane: Plane): PlaneLadder {
  const where = (ladder[0] as ExpectedAtTension).tones.flatMap((t, i) => (t.plane === plane ? [i] : []));
  const count = where.length;
  const ln = ladder.map(({ tones }) => Float64Array.from(where, (i) => Math.log((tones[i] as Expected).frequencyHz)));
  const lnT = ladder.map(({ tensionN }) => Math.log(tensionN));
  const shares = ladder.map((_, r) => shareAt(lnT, ln, r));
  return {
    plane,
    count,
    lnT,
    tones: ladder.map(({ tones }) => where.map((i) => tones[i] as Expected)),
    ln,
    shares,
    covariance: ladder.map(({ covariance }, r) => {
      const rise = (shares[r] as number[]).map((share) => share * BETWEEN * stepAt(lnT, r));
      const own = new Float64Array(count * count);
      for (let a = 0; a < count; a++)
        for (let b = 0; b < count; b++)
          own[a * count + b] =
            ((covariance[where[a] as number] as readonly number[])[where[b] as number] as number) +
            (rise[a] as number) * (rise[b] as number);
      return own;
    }),
  };
}

/** The rungs beside one. */
const beside = (lnT: readonly number[], rung: number): readonly [number, number] => [
  Math.max(0, rung - 1),
  Math.min(lnT.length - 1, rung + 1),
];

/** ln of the step in tension about a rung. */
function stepAt(lnT: readonly number[], rung: number): number {
  const [a, b] = beside(lnT, rung);
  return ((lnT[b] as number) - (lnT[a] as number)) / (b - a);
}

/** d ln frequency / d ln tension of each tone. */
function shareAt(lnT: readonly number[], ln: readonly Float64Array[], rung: number): number[] {
  const [a, b] = beside(lnT, rung);
  const width = (lnT[b] as number) - (lnT[a] as number);
  return Array.from(ln[b] as Float64Array, (high, m) => (high - ((ln[a] as Float64Array)[m] as number)) / width);
}

function setOf(own: PlaneLadder, other: PlaneLadder | undefined): ToneSet {
  const { count, ln } = own;
  const from = (ln[0] as Float64Array)[0] as number;
  const step = (((ln[ln.length - 1] as Float64Array)[0] as number) - from) / (POINTS - 1);
  const family = (own.tones[0] as readonly Expected[])[0]?.family as Family;
  const lnTension = new Float64Array(POINTS);
  const covariance = Array.from({ length: POINTS }, () => new Float64Array(count * count));
  const modes = Array.from({ length: count }, () => toneOf(OWN));
  const companions = Array.from({ length: other?.count ?? 0 }, () => toneOf(OTHER));
  for (let i = 0; i < POINTS; i++) {
    const x = from + i * step;
    const weights = likelihoods(own, x);
    let mean = 0;
    weights.forEach((w, r) => {
      mean += w * (own.lnT[r] as number);
    });
    lnTension[i] = mean;
    const means = mixAt(own, weights, x, covariance[i] as Float64Array);
    const ends = mainDeparture(covariance[i] as Float64Array, count);
    weights.forEach((w, r) => {
      if (w === 0) return;
      const shares = own.shares[r] as readonly number[];
      for (let m = 0; m < count; m++) {
        const { share } = modes[m] as SetTone;
        share[i] = (share[i] as number) + w * (shares[m] as number);
      }
    });
    const rung = nearestRung(own.lnT, mean);
    modes.forEach((tone, m) => {
      const { family: f, mode } = (own.tones[rung] as readonly Expected[])[m] as Expected;
      tone.numbers[i] = f === family ? mode : 0;
      tone.ln[i] = means[m] as number;
      tone.ends[i] = ends[m] as number;
    });
    if (!other) continue;
    companions.forEach((tone, m) => {
      let sum = 0;
      let squares = 0;
      weights.forEach((w, r) => {
        const ratio = ((other.ln[r] as Float64Array)[m] as number) - ((own.ln[r] as Float64Array)[0] as number);
        const c = other.covariance[r] as Float64Array;
        const n = other.count;
        sum += w * ratio;
        squares += w * (ratio ** 2 + (c[m * n + m] as number) + (c[0] as number) - 2 * (c[m] as number));
      });
      tone.ln[i] = x + sum;
      tone.ends[i] = Math.sqrt(Math.max(0, squares - sum * sum));
    });
  }
  return { plane: own.plane, family, guess: false, from, step, modes, covariance, lnTension, companions };
}

const toneOf = (u: number): SetTone => ({
  numbers: new Uint8Array(POINTS),
  ln: new Float64Array(POINTS),
  u: new Float64Array(POINTS).fill(u),
  ends: new Float64Array(POINTS),
  share: new Float64Array(POINTS),
});

/** How likely each rung is where the first tone is known; their sum is 1. */
function likelihoods(own: PlaneLadder, x: number): Float64Array {
  const lns = Float64Array.from(own.ln, (ln, r) => {
    const variance = (own.covariance[r] as Float64Array)[0] as number;
    return -0.5 * ((x - (ln[0] as number)) ** 2 / variance + Math.log(variance));
  });
  const most = Math.max(...lns);
  const weights = lns.map((l) => (l < most - UNLIKELY ? 0 : Math.exp(l - most)));
  const total = weights.reduce((s, w) => s + w, 0);
  return weights.map((w) => w / total);
}

/** Means of the tones at a first tone, and their covariance into `out`. */
function mixAt(own: PlaneLadder, weights: Float64Array, x: number, out: Float64Array): Float64Array {
  const n = own.count;
  const mean = new Float64Array(n);
  const here = new Float64Array(n);
  weights.forEach((w, r) => {
    if (w === 0) return;
    const ln = own.ln[r] as Float64Array;
    const c = own.covariance[r] as Float64Array;
    const off = (x - (ln[0] as number)) / (c[0] as number);
    for (let a = 0; a < n; a++) {
      here[a] = (ln[a] as number) + (c[a] as number) * off;
      mean[a] = (mean[a] as number) + w * (here[a] as number);
    }
    for (let a = 0; a < n; a++)
      for (let b = 0; b < n; b++)
        out[a * n + b] =
          (out[a * n + b] as number) +
          w *
            ((here[a] as number) * (here[b] as number) +
              (c[a * n + b] as number) -
              ((c[a] as number) * (c[b] as number)) / (c[0] as number));
  });
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) out[a * n + b] = (out[a * n + b] as number) - (mean[a] as number) * (mean[b] as number);
  return mean;
}

/** The departure that moves the tones most, one standard deviation of it: the leading axis of their covariance, by powers. */
function mainDeparture(covariance: Float64Array, n: number): Float64Array {
  let axis = new Float64Array(n).fill(1);
  let size = 0;
  for (let k = 0; k < 12; k++) {
    const next = new Float64Array(n);
    size = 0;
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++)
        next[a] = (next[a] as number) + (covariance[a * n + b] as number) * (axis[b] as number);
      size += (next[a] as number) ** 2;
    }
    size = Math.sqrt(size);
    axis = next.map((v) => v / Math.max(size, 1e-12));
  }
  return axis.map((v) => v * Math.sqrt(size));
}

function nearestRung(lnT: readonly number[], x: number): number {
  let best = 0;
  lnT.forEach((v, i) => {
    if (Math.abs(v - x) < Math.abs((lnT[best] as number) - x)) best = i;
  });
  return best;
}
