import type { Line } from './loudLines.ts';
import { type MemberComb, memberComb } from './memberComb.ts';
import type { ToneSet } from './toneSet.ts';

/** Each of two spokes shows at least so many tones of its own. */
const FEWEST_LINES = 3;
/** About as loud as the first, dB. */
const ABOUT_EQUAL_DB = -10;
/** Evidence of the first and of the second, nats over lines anywhere. */
const FIRST = 0;
const SECOND = 1;
/** Tensions nearer than this (ln) are one spoke with the planes apart. */
const APART = 0.08;

/**
 * Did two spokes of this description sound at once, about equally loud?
 * What the member's best comb leaves over must be a comb of the same member at another tension. Where a crossing is free the
 * touching spoke sounds by right, and where one plane alone is described the other one's tones would be taken for it: then
 * nothing is said.
 * @validity Tells about one pair in six, as the unknown ends let one comb take the tones of two like tensions.
 */
export function isSecondSpoke(lines: readonly Line[], sets: readonly ToneSet[], first: MemberComb): boolean {
  const planes = new Set(sets.map((set) => set.plane));
  if (!(planes.has('inPlane') && planes.has('across')) || sets.some((set) => set.family === 'pair')) return false;
  if (first.evidence < FIRST) return false;
  const rest = lines.filter((l) => !first.teeth.some((t) => Math.abs(l.lnHz - t.lnHz) < 3 * t.u));
  if (rest.length < FEWEST_LINES || lines.length - rest.length < FEWEST_LINES) return false;
  const top = Math.max(...rest.map((l) => l.levelDb));
  if (top < ABOUT_EQUAL_DB) return false;
  const second = memberComb(
    rest.map((l) => ({ ...l, levelDb: l.levelDb - top })),
    sets,
  );
  return second.evidence > SECOND && Math.abs(second.x - first.x) > APART;
}
