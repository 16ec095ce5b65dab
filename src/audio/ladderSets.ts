import type { ExpectedAtTension, Family, Plane } from '../contract.ts';
import type { ToneSet } from './proposeModes.ts';

/** A described member is never quite the real one: mass, length and ends shift ratios by some 0.4 % (1 σ). */
const DESCRIPTION = 0.004;

/**
 * The expected tones of a described member as functions of ln tension, one set for each plane and family.
 * Between the rungs of the ladder ln f runs as a cubic through the four nearest rungs (exact tones at the rungs).
 * @param ladder ascending in tension; a tone missing at some rung ends its curve there.
 */
export function ladderSets(ladder: readonly ExpectedAtTension[]): ToneSet[] {
  const x = ladder.map((rung) => Math.log(rung.tensionN));
  const groups = new Map<string, { plane: Plane; family: Family; modes: Map<number, { ln: number[]; u: number[] }> }>();
  ladder.forEach((rung, r) => {
    for (const tone of rung.tones) {
      const key = `${tone.plane}/${tone.family}`;
      const group = groups.get(key) ?? { plane: tone.plane, family: tone.family, modes: new Map() };
      groups.set(key, group);
      const curve = group.modes.get(tone.mode) ?? { ln: [], u: [] };
      group.modes.set(tone.mode, curve);
      curve.ln[r] = Math.log(tone.frequencyHz);
      curve.u[r] = tone.uHz / tone.frequencyHz;
    }
  });
  const sets: ToneSet[] = [];
  for (const { plane, family, modes } of groups.values()) {
    const whole = [...modes.entries()]
      .filter(([, c]) => c.ln.length === x.length && !c.ln.includes(undefined as unknown as number))
      .sort((a, b) => a[0] - b[0]);
    if (whole.length === 0) continue;
    const curves = whole.map(([, c]) => c.ln);
    sets.push({
      plane,
      family,
      guess: false,
      from: x[0] as number,
      to: x[x.length - 1] as number,
      modes: whole.map(([mode, c]) => ({
        mode,
        uRelative: Math.hypot(DESCRIPTION, c.u.reduce((s, v) => s + v, 0) / c.u.length),
      })),
      lnAt: (i, at) => cubic(x, curves[i] as number[], at),
    });
  }
  return sets;
}

/** Lagrange through the four nearest knots, fewer where the ladder is shorter. */
function cubic(x: readonly number[], y: readonly number[], at: number): number {
  const n = x.length;
  if (n === 1) return (y[0] as number) + 0.5 * (at - (x[0] as number));
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
