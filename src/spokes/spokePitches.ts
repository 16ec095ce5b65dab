import { median } from './median.ts';
import type { Pluck, Side } from './wheel.ts';

/** One way to lay a spoke's tones onto those of the wheel. */
export interface Lay {
  /** By so much the spoke's first tone lies above the wheel's, ln of frequency. */
  readonly pitch: number;
  /** Standard uncertainty of that, ln. */
  readonly u: number;
  /** How much likelier the tones are if this lay is the true one than if they fell there by chance, times the width over which it is; ln of frequency. */
  readonly weight: number;
}
export interface SpokePitch {
  readonly spoke: number;
  readonly isLeft: boolean;
  /** At least one. */
  readonly lays: readonly Lay[];
}
/** Tones of one spoke, ascending, onto which those of the others are laid. */
interface Pattern {
  readonly tones: readonly number[];
  /** By how much less each tone moves than the first when the tension changes. */
  readonly shares: readonly number[];
}

/** Sides lie apart by no more, ln of frequency: tensions as 1 to 3. */
export const MOST_APART = 0.55;
/** What butts, ends and both planes leave of a partial's place once the pitch and the stretch are right, ln of frequency. */
const SAME_PARTIAL = 0.04;
/** Nearer than this, tones of a spoke's plucks are one partial, or its doublet; ln of frequency. */
const SAME_TONE = 0.01;
/** Fainter than this below the loudest, a tone may be a neighbour's. */
const LOUD_DB = 20;
/** So many of the spokes with most tones are tried as the pattern. */
const PATTERNS = 4;
/**
 * A partial at y = ln(f/f₁) moves by 1 − s y of what the first does: stiffness holds it, f_m² = m² f₁² + β m⁴ with β the same at every tension
 * (pinned; Fletcher 1964). A steel spoke's s is about 0.2 from 1000 N to 400 N, a string's 0.
 */
const STRETCHES = [0, 0.1, 0.2, 0.3] as const;
/** Share of a spoke's loud tones that are partials of the pattern. */
const OWN_SHARE = 0.8;
/** A stray tone comes to lie on some partial so often: they lie some 0.3 apart, ln of frequency, each with its `SAME_PARTIAL` on both sides. */
const CHANCE = 0.25;
/** So much less likely than the likeliest, a lay is left out. */
const NEGLIGIBLE = 0.02;

/**
 * Every spoke's pitch against the wheel's, in each way in which its tones can be laid onto those of one spoke of the wheel, whatever they are
 * numbered: a weak first tone does no harm, and where partials 2, 3 … also lie where 3, 4 … would, both ways stand.
 *
 * @param places With the plucks that agree; spokes without any, or without a tone that can be laid, are left out.
 */
export function spokePitches(
  places: readonly { readonly spoke: number; readonly side: Side; readonly plucks: readonly Pluck[] }[],
): readonly SpokePitch[] {
  const heard = places.map(({ plucks }) => lnTones(plucks));
  const pattern = patternOf(heard);
  if (pattern === undefined) return [];
  return places.flatMap(({ spoke, side }, i) => {
    const lays = weighed(laysOnto(pattern, heard[i] ?? []), heard[i]?.length ?? 0);
    return lays.length === 0 ? [] : [{ spoke, isLeft: side === 'left', lays }];
  });
}

/** Loud tones of all plucks together, ascending; what several have counts once. */
function lnTones(plucks: readonly Pluck[]): readonly number[] {
  const loud = plucks.flatMap(({ tones }) => {
    const loudest = Math.max(...tones.map((tone) => tone.levelDb));
    return tones.flatMap((tone) => (tone.levelDb >= loudest - LOUD_DB ? [Math.log(tone.frequencyHz)] : []));
  });
  const groups: number[][] = [];
  for (const ln of loud.toSorted((a, b) => a - b)) {
    const last = groups.at(-1);
    if (last?.[0] !== undefined && ln - last[0] < SAME_TONE) last.push(ln);
    else groups.push([ln]);
  }
  return groups.map(median);
}

/** Of the spokes with most tones, and of all stretches, the one onto which most tones of the wheel can be laid. */
function patternOf(heard: readonly (readonly number[])[]): Pattern | undefined {
  let best: Pattern | undefined;
  let most = 0;
  for (const tones of heard.toSorted((a, b) => b.length - a.length).slice(0, PATTERNS))
    for (const stretch of STRETCHES) {
      const [first = 0] = tones;
      const pattern = { tones, shares: tones.map((ln) => 1 - stretch * (ln - first)) };
      const laid = heard.reduce(
        (sum, other) => sum + Math.max(0, ...laysOnto(pattern, other).map(({ count }) => count)),
        0,
      );
      if (laid > most) [best, most] = [pattern, laid];
    }
  return best;
}

interface Counted {
  readonly pitch: number;
  readonly u: number;
  /** Tones that lie on partials. */
  readonly count: number;
}

/** Every way to lay tones onto the pattern: each tone once onto each partial, and all others where they then fall. */
function laysOnto({ tones: partials, shares }: Pattern, tones: readonly number[]): readonly Counted[] {
  const found = new Map<string, Counted>();
  for (const [k, partial] of partials.entries())
    for (const tone of tones) {
      const shift = (tone - partial) / (shares[k] ?? 1);
      if (Math.abs(shift) > MOST_APART) continue;
      const pairs: string[] = [];
      let sum = 0;
      let squares = 0;
      for (const [i, ln] of tones.entries()) {
        const j = partials.findIndex((other, n) => Math.abs(ln - other - shift * (shares[n] ?? 1)) < SAME_PARTIAL);
        if (j < 0) continue;
        const own = (ln - (partials[j] ?? ln)) / (shares[j] ?? 1);
        pairs.push(`${i}:${j}`);
        sum += own;
        squares += own ** 2;
      }
      const count = pairs.length;
      const pitch = sum / count;
      // A single tone tells its own place no better than butts and ends let it.
      const variance = Math.max(0, squares / count - pitch ** 2) + SAME_PARTIAL ** 2 / 12;
      found.set(pairs.join(' '), { pitch, u: Math.sqrt(variance / count), count });
    }
  return [...found.values()];
}

/** Tones on partials speak for a lay, tones beside them against it. */
function weighed(lays: readonly Counted[], tones: number): readonly Lay[] {
  const weight = (count: number) =>
    2 * SAME_PARTIAL * (OWN_SHARE / CHANCE) ** count * ((1 - OWN_SHARE) / (1 - CHANCE)) ** (tones - count);
  const most = Math.max(...lays.map(({ count }) => count));
  return lays
    .filter(({ count }) => weight(count) >= NEGLIGIBLE * weight(most))
    .map(({ pitch, u, count }) => ({ pitch, u, weight: weight(count) }));
}
