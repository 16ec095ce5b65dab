import { loudLines } from './loudLines.ts';
import { memberComb } from './memberComb.ts';
import { isSecondSpoke } from './secondSpoke.ts';
import type { SoundShape } from './soundShape.ts';
import { type Stranger, strangerCombs } from './strangerCombs.ts';
import type { ToneSet } from './toneSet.ts';
import type { RefinedTone } from './tonesOfBand.ts';

/** What the judgement rests on. */
export interface Evidence {
  readonly shape: SoundShape;
  /** Tones that came with the onset. */
  readonly tones: readonly RefinedTone[];
  /** Share of the loud bands that no damped tone accounts for. */
  readonly misfit: number;
  /** Power of the tones over the power of the sound, 30–150 ms after the onset. */
  readonly tonalShare: number;
  readonly clipped: boolean;
  readonly sets: readonly ToneSet[];
}

/** ln of how much likelier each trait is on a plucked spoke than on something else that makes tones, nats. */
export interface SoundWeights {
  /** The tones lie where the member's lie, and not better in a row of something else. */
  readonly place: number;
  /** There at once. */
  readonly start: number;
  /** High notes at the release that die first. */
  readonly click: number;
  /** Rings as wires do, not a thumb's knock, not a fork. */
  readonly quality: number;
  /** Falls, and does not stop. */
  readonly fall: number;
  /** Is a sum of damped tones. */
  readonly fit: number;
  /** Of nothing else beside. */
  readonly share: number;
  /** Quiet before. */
  readonly before: number;
}
export type Trait = keyof SoundWeights;

export interface Weighed {
  readonly weights: SoundWeights;
  readonly total: number;
  /** Tones that its place was weighed by. */
  readonly lines: number;
  /** What is left over is another spoke of the same description. */
  readonly second: boolean;
  /** The likeliest row of something else, if it beats tones anywhere. */
  readonly stranger: Stranger | undefined;
}

/** Prior odds of what else a row of tones may be: nothing known, an instrument's string, a body. */
const ANYTHING = Math.log(0.5);
const ROW = Math.log(0.25);

/** A wheel has other tones than the described member's: unless they make a row of their own, they speak no louder against it. */
const LEAST_KNOWN = -4;
/** Evidence below this: no tension of the ladder has any of the tones. */
const NOWHERE = -59;

/** Weighs a sound that has tones. */
export function weighSound(e: Evidence): Weighed {
  const lines = loudLines(e.tones);
  const member = memberComb(lines, e.sets);
  const rows = strangerCombs(lines);
  const other = lnSum(ANYTHING, ROW + rows.string, ROW + rows.body);
  const known = member.evidence < NOWHERE ? member.evidence : Math.max(LEAST_KNOWN, member.evidence);
  const weights: SoundWeights = {
    place: between(-8, known - other, 6),
    start: startOf(e.shape.startDb),
    click: clickOf(e.shape.clickDb),
    quality: e.clipped ? 0 : qualityOf(e.tones),
    fall: e.clipped ? 0 : fallOf(e.shape),
    fit: fitOf(e.misfit),
    share: shareOf(e.tonalShare),
    before: between(-3, -0.5 * (Math.max(0, 8 - e.shape.riseDb) / 4) ** 2, 0),
  };
  const stranger = rows.string > rows.body ? 'string' : 'body';
  return {
    weights,
    total: Object.values(weights).reduce((sum: number, w: number) => sum + w, 0),
    lines: lines.length,
    second: isSecondSpoke(lines, e.sets, member),
    stranger: Math.max(rows.string, rows.body) > 1 ? stranger : undefined,
  };
}

const between = (low: number, v: number, high: number): number => Math.min(high, Math.max(low, v));
const lnSum = (...lns: number[]): number => {
  const most = Math.max(...lns);
  return most + Math.log(lns.reduce((s, l) => s + Math.exp(l - most), 0));
};
/** ln of a normal density, less ln √(2π). */
const lnNormal = (x: number, mean: number, sigma: number): number => -0.5 * ((x - mean) / sigma) ** 2 - Math.log(sigma);

/** A released wire has its whole amplitude within a period; beats of two planes take 2 dB. */
const startOf = (startDb: number): number => between(-5, -0.5 * (Math.min(0, startDb) / 2) ** 2, 0);

/** The bend at the finger goes into high modes, which die in milliseconds: 10 ± 6 dB; other sounds: 0 ± 7 dB. */
const clickOf = (clickDb: number | undefined): number =>
  clickDb === undefined
    ? 0
    : between(-3, lnNormal(Math.min(10, clickDb), 10, 6) - lnNormal(Math.min(10, clickDb), 0, 7), 1.2);

/** Quality π·f·τ of the energy: a held wire's is some 300, within a factor of 2.5; other things' anything about 500, within 5. */
function qualityOf(tones: readonly RefinedTone[]): number {
  let top = 0;
  let bottom = 0;
  for (const t of tones) {
    const energy = t.amplitude ** 2 * t.decayS * Math.exp(-0.06 / t.decayS);
    top += energy * Math.log(Math.PI * t.frequencyHz * t.decayS);
    bottom += energy;
  }
  const ln = bottom > 0 ? top / bottom : 0;
  return between(-3, lnNormal(ln, Math.log(300), 0.9) - lnNormal(ln, Math.log(500), 1.6), 1);
}

/** A level that hardly falls in 0.2 s, or a flat one that stops, is keyed or blown. */
function fallOf({ sustainDb, fallBeforeStop }: SoundShape): number {
  const held = between(-2.5, -0.4 * Math.max(0, sustainDb + 2) ** 2, 0);
  const keyed = fallBeforeStop === undefined ? 0 : -3 * between(0, (25 - fallBeforeStop) / 15, 1);
  return Math.min(held, keyed);
}

/** Spokes leave 0.8 % unexplained, one in ten (a click beside) 6 %; other sounds 0.8 % in four of ten, else 12 %. */
const fitOf = (misfit: number): number =>
  Math.log(exponential(misfit, 0.008, 0.9) + exponential(misfit, 0.06, 0.1)) -
  Math.log(exponential(misfit, 0.008, 0.4) + exponential(misfit, 0.12, 0.6));
const exponential = (x: number, scale: number, share: number): number => (share / scale) * Math.exp(-x / scale);

/** All the power in the tones; less is a knock, more (components that cancel) is no sum of free rings. */
const shareOf = (share: number): number =>
  between(-2.5, -0.5 * (Math.max(0, Math.log(0.8 / Math.max(share, 1e-3))) / 0.55) ** 2, 0) +
  between(-2, -0.5 * (Math.max(0, Math.log(share / 3)) / 0.4) ** 2, 0);
