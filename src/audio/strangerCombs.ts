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

/** A row of tones over its first. */
const rowOf = (ratios: readonly number[], u: number): Tooth[] =>
  ratios.map((r, i): Tooth => ({ lnHz: Math.log(r), u, weight: 1, rank: i + 1 }));
const STRING_ROWS = STRINGS.map((r) => rowOf(r, STRING_U));
const BODY_ROWS = [rowOf(BELL, BELL_U), ...BODIES.map((r) => rowOf(r, BODY_U))];

/** The likeliest row of tones that is not a spoke's, nats over lines anywhere. */
export function strangerCombs(lines: readonly Line[]): Readonly<Record<Stranger, number>> {
  return {
    string: Math.max(...STRING_ROWS.map((row) => bestOf(lines, row))) - STRING_CHOICE,
    body: Math.max(...BODY_ROWS.map((row) => bestOf(lines, row))),
  };
}

function bestOf(lines: readonly Line[], row: readonly Tooth[]): number {
  let best = -60;
  for (const anchor of lines.slice(0, ANCHORS))
    for (const tooth of row.slice(0, ANCHOR_TEETH)) {
      const first = anchor.lnHz - tooth.lnHz;
      if (first < LOWEST) continue;
      const shift = first + combShift(lines, row, { shift: first, top: TOP });
      best = Math.max(best, combEvidence(lines, row, MISSING, { shift, top: TOP }) - SEARCH);
    }
  return best;
}
