import type { ExpectedAtTension, Family, Plane } from '../contract.ts';
import type { SetTone, ToneSet } from './toneSet.ts';

/** A described member is never quite the real one: length, crossing and taper shift tones by some 0.3 % (1 σ), upper ones more. */
const DESCRIPTION = 0.003;
/** Real ends lie outside a prior now and then. */
const SPREAD = 2;
/** Part of the spread over the ends in which the tones of a set do not depart together. */
const APART = 0.3;
/** Points of the grid in ln tension. */
const POINTS = 192;

const made = new WeakMap<readonly ExpectedAtTension[], ToneSet[]>();

/**
 * The expected tones of a described member as functions of ln tension, one set for each plane and family.
 * Between the rungs of the ladder ln f is the cubic through the four nearest rungs, laid out once on an even grid.
 * @param ladder ascending in tension, at least two rungs; a tone missing at some rung is left out.
 */
export function ladderSets(ladder: readonly ExpectedAtTension[]): ToneSet[] {
  const known = made.get(ladder);
  if (known) return known;
  const x = ladder.map((rung) => Math.log(rung.tensionN));
  const from = x[0] as number;
  const step = ((x[x.length - 1] as number) - from) / (POINTS - 1);
  const curves = new Map<string, { plane: Plane; family: Family; mode: number; ln: number[]; u: number[] }>();
  for (const rung of ladder)
    for (const tone of rung.tones) {
      const key = `${tone.plane}/${tone.family}/${tone.mode}`;
      const curve = curves.get(key) ?? { plane: tone.plane, family: tone.family, mode: tone.mode, ln: [], u: [] };
      curves.set(key, curve);
      curve.ln.push(Math.log(tone.frequencyHz));
      curve.u.push(tone.uHz / tone.frequencyHz);
    }
  const laid = [...curves.values()]
    .filter((c) => c.ln.length === x.length && x.length > 1)
    .map((c) => {
      const spread = Float64Array.from({ length: POINTS }, (_, i) => Math.max(0, cubic(x, c.u, from + i * step)));
      const tone: SetTone = {
        mode: c.mode,
        ln: Float64Array.from({ length: POINTS }, (_, i) => cubic(x, c.ln, from + i * step)),
        u: spread.map((v) => Math.hypot(DESCRIPTION * (1 + 0.5 * (c.mode - 1)), APART * v)),
        ends: spread.map((v) => SPREAD * v),
      };
      return { plane: c.plane, family: c.family, tone };
    });
  const sets: ToneSet[] = [];
  for (const { plane, family } of laid) {
    if (sets.some((s) => s.plane === plane && s.family === family)) continue;
    const own = (l: { plane: Plane; family: Family }) => l.plane === plane && l.family === family;
    sets.push({
      plane,
      family,
      guess: false,
      from,
      step,
      modes: laid
        .filter(own)
        .map((l) => l.tone)
        .sort((a, b) => a.mode - b.mode),
      companions: laid.filter((l) => !own(l)).map((l) => l.tone),
    });
  }
  made.set(ladder, sets);
  return sets;
}

/** Lagrange through the four nearest knots, fewer where the ladder is shorter. */
function cubic(x: readonly number[], y: readonly number[], at: number): number {
  const n = x.length;
  let k = 0;
  while (k < n - 2 && (x[k + 1] as number) < at) k++;
  const from = Math.max(0, Math.min(n - 4, k - 1));
  const to = Math.min(n, from + 4);
  let sum = 0;
  for (let i = from; i < to; i++) {
    let term = y[i] as number;
    for (let j = from; j < to; j++)
      if (j !== i) term *= (at - (x[j] as number)) / ((x[i] as number) - (x[j] as number));
    sum += term;
  }
  return sum;
}
