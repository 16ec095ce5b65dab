import type { BandSignal } from './bandSignal.ts';
import type { Series } from './closedSums.ts';
import { glideTurns } from './glidePhasor.ts';

/** A relative rise of frequency at the band's first sample, and the rate at which it dies, 1/s. */
export interface Glide {
  readonly value: number;
  readonly rate: number;
}

/** A band with a glide undone. */
export interface UndoneBand extends Series {
  /** Σ |y|². */
  readonly energy: number;
}

// The last answer is kept, because trial fits share their band, and many their glide.
let turns = new Float64Array(0);
let undone = new Float64Array(0);
let last: { readonly band: BandSignal; readonly glide: Glide | undefined; readonly answer: UndoneBand } | undefined;

/** The band with a glide undone, or as it is where there is none. Overwritten by the next call with another band or glide. */
export function undoGlide(band: BandSignal, glide: Glide | undefined): UndoneBand {
  const known = last?.band === band ? last : undefined;
  if (known && known.glide?.value === glide?.value && known.glide?.rate === glide?.rate) return known.answer;
  if (glide) undo(band, glide);
  const { samples, count } = band;
  const energy = known ? known.answer.energy : energyOf(band);
  const answer = { count, samples, undone: glide ? undone : samples, turns, energy };
  last = { band, glide, answer };
  return answer;
}

function undo(band: BandSignal, { value, rate }: Glide) {
  const { samples, count } = band;
  if (turns.length < 2 * count) {
    turns = new Float64Array(2 * count);
    undone = new Float64Array(2 * count);
  }
  glideTurns(band, value, rate, turns);
  for (let i = 0; i < 2 * count; i += 2) {
    const re = samples[i] as number;
    const im = samples[i + 1] as number;
    const cr = turns[i] as number;
    const ci = turns[i + 1] as number;
    undone[i] = re * cr + im * ci;
    undone[i + 1] = im * cr - re * ci;
  }
}

function energyOf({ samples, count }: BandSignal): number {
  let energy = 0;
  for (let i = 0; i < 2 * count; i++) energy += (samples[i] as number) ** 2;
  return energy;
}
