/** Tones 2–4 of the plucked plane where they are there to be heard, and both tones of its doublets. */

import type { Heard, HearRefusal } from '../src/contract.ts';
import type { SimulatedPluck, TrueTone } from '../test/signals/pluck.ts';
import { line, nearestTone, percent } from './earTrial.ts';
import { quantile } from './tables.ts';

/** A tone farther off than this is another one. */
const SAME_CENTS = 35;
/** A mate fainter than this beside its tone does not draw it away. */
const MATE_DB = 26;

/** Upper tones of a row of plucks. */
export interface UpperTally {
  asked: number;
  readonly errors: number[];
  /** Errors in stated standard uncertainties. */
  readonly z: number[];
  doublets: number;
  bothFound: number;
}
export const noUppers = (): UpperTally => ({ asked: 0, errors: [], z: [], doublets: 0, bothFound: 0 });

export function tallyUppers(tally: UpperTally, pluck: SimulatedPluck, heard: Heard | HearRefusal | undefined): void {
  const { tones } = pluck.truth;
  for (const t of tones) {
    if (!t.present || t.family === 'hub' || t.mode > 4 || t.plane === 'across') continue;
    if (t.mode > 1) tally.asked++;
    if (!heard?.ok) continue;
    const mate = t.pairMate === undefined ? undefined : tones[t.pairMate];
    if (t.mode > 1) tallyTone(tally, heard, mate && mate.levelDb > t.levelDb - MATE_DB ? [t, mate] : [t]);
    if (mate?.present && isResolvable(t, mate)) {
      tally.doublets++;
      if ([t, mate].every((m) => (nearestTone(heard, [m])?.cents ?? 99) < 3)) tally.bothFound++;
    }
  }
}

function tallyTone(tally: UpperTally, heard: Heard, truths: readonly TrueTone[]): void {
  const near = nearestTone(heard, truths);
  if (!near || near.cents >= SAME_CENTS) return;
  tally.errors.push(near.cents);
  tally.z.push(near.z);
}

/** The split turns the two apart by 0.3 of a turn in a decay time. */
const isResolvable = (a: TrueTone, b: TrueTone): boolean => Math.abs(a.frequencyHz - b.frequencyHz) * a.decayS > 0.3;

export const uppersHead = (): void =>
  line('', 'SNR dB', 'asked', 'found', 'median ct', '95 % ct', '95 % covers', 'doublets', 'both < 3 ct');

export const printUppers = (style: string, snrDb: number, tally: UpperTally): void =>
  line(
    `  ${style}`,
    snrDb,
    tally.asked,
    percent(tally.errors.length, tally.asked),
    quantile(tally.errors, 0.5).toFixed(3),
    quantile(tally.errors, 0.95).toFixed(2),
    percent(tally.z.filter((v) => v < 1.96).length, tally.z.length),
    tally.doublets,
    tally.doublets > 0 ? percent(tally.bothFound, tally.doublets) : '–',
  );
