import { combEvidence, combShift, type Tooth } from './combEvidence.ts';
import type { Line } from './loudLines.ts';

/** What else has tones in a row. */
export type Stranger = 'string' | 'body';

/** A string or pipe of an instrument: n√(1 + Bn²) with B far below a spoke's. @source Fletcher 1964, J. Acoust. Soc. Am. 36:203 */
const STRINGS = [0, 3e-4, 1.2e-3].map((b) =>
  Array.from({ length: 20 }, (_, i) => (i + 1) * Math.sqrt(1 + b * (i + 1) ** 2)),
);
const STRING_U = 0.003;
/** Price of three inharmonicities. */
const STRING_CHOICE = 1;
/** Free bar, clamped bar, ring, membrane. @source Rayleigh, Theory of Sound, § 174–177, 206, 233; Hoppe 1871 */
const BODIES = [
  [1, 2.756, 5.404, 8.933, 13.34],
  [1, 6.267, 17.55],
  [1, 2.828, 5.423, 8.77, 12.87],
  [1, 1.594, 2.136, 2.296, 2.653, 2.918, 3.156, 3.501],
];
const BODY_U = 0.006;
/** Hum, prime, tierce, quint, nominal and above: a bell tuned to them, roughly. @source Fletcher and Rossing, ch. 21 */
const BELL = [0.5, 1, 1.2, 1.5, 2, 2.5, 2.667, 3, 4, 5.333];
const BELL_U = 0.008;
const ANCHORS = 6;
const ANCHOR_TEETH = 8;
/** Price of the free first tone: its prior is wider than a tension's. */
const SEARCH = 6.5;
/** They are damped and touched in all ways: a missing tone says less. */
const MISSING = 0.4;
const LOWEST = Math.log(30);
const TOP = Math.log(10_000);

/** The likeliest row of tones that is not a spoke's, nats over lines anywhere. */
export function strangerCombs(lines: readonly Line[]): Readonly<Record<Stranger, number>> {
  return {
    string: Math.max(...STRINGS.map((r) => bestOf(lines, r, STRING_U))) - STRING_CHOICE,
    body: Math.max(bestOf(lines, BELL, BELL_U), ...BODIES.map((r) => bestOf(lines, r, BODY_U))),
  };
}

function bestOf(lines: readonly Line[], ratios: readonly number[], u: number): number {
  let best = -60;
  for (const anchor of lines.slice(0, ANCHORS))
    for (const ratio of ratios.slice(0, ANCHOR_TEETH)) {
      const first = anchor.lnHz - Math.log(ratio);
      if (first < LOWEST) continue;
      const moved = first + combShift(lines, teethAt(ratios, u, first));
      best = Math.max(best, combEvidence(lines, teethAt(ratios, u, moved), MISSING) - SEARCH);
    }
  return best;
}

const teethAt = (ratios: readonly number[], u: number, lnFirst: number): Tooth[] =>
  ratios.map((r, i): Tooth => ({ lnHz: lnFirst + Math.log(r), u, weight: 1, rank: i + 1 })).filter((t) => t.lnHz < TOP);
