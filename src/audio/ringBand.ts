import type { BandSignal } from './bandSignal.ts';
import type { Peak } from './findPeaks.ts';
import type { Damped, DampedFit } from './fitExponentials.ts';
import { glideTurns } from './glidePhasor.ts';
import type { NoiseBefore } from './noiseBefore.ts';
import type { BandModel } from './refineBand.ts';
import { scratch } from './scratch.ts';
import { bandGain, type LongSpectrum, takeBand } from './takeBand.ts';

/** A band on its way: what it holds and what is known of it so far. */
export interface RingBand {
  readonly peaks: readonly Peak[];
  readonly centreHz: number;
  readonly coreHz: number;
  readonly raw: BandSignal;
  /** From the onset to the band's first sample, s. */
  readonly elapsedS: number;
  /** From the segment's start to the band's first sample, s. */
  readonly startS: number;
  readonly filterS: number;
  readonly levelDb: number;
  model?: BandModel;
}
/** Twice the density times the band's noise bandwidth: the signal stands for the positive frequencies at twice their amplitude. */
export const floorOf = (b: RingBand, noise: NoiseBefore | undefined) =>
  noise ? (2 * noise.densityAt(b.centreHz) * b.raw.rateHz) / b.raw.correlation : Number.POSITIVE_INFINITY;

/** Fewer samples tell nothing of a tone. */
const LEAST_COUNT = 24;
/** The filter takes no more of a short ring than this share, or too little would be left of it. */
const SHORT = 0.14;
/** A band is looked at until its power, over stretches of so many samples, stays below so much of the noise or of its start. */
const STRETCH = 8;
const OVER_NOISE = 2.5;
const OVER_START = 1e-7;

/** How many samples until nothing but noise is left: what comes later tells nothing and costs time. */
function soundingCount({ samples, count }: BandSignal, floor: number): number {
  let top = 0;
  let last = 0;
  for (let from = 0; from < count; from += STRETCH) {
    const to = Math.min(count, from + STRETCH);
    let power = 0;
    for (let i = 2 * from; i < 2 * to; i++) power += (samples[i] as number) ** 2;
    power /= to - from;
    top = Math.max(top, power);
    if (power > Math.max(OVER_NOISE * floor, OVER_START * top)) last = to;
  }
  return Math.min(count, Math.max(LEAST_COUNT, last + STRETCH));
}

/** Bands round the peaks, the loudest first; a peak inside an earlier band's core starts none of its own. */
export function cutBands(
  spectrum: LongSpectrum,
  loudestFirst: readonly Peak[],
  skipS: number,
  mostBands: number,
  noise: NoiseBefore | undefined,
): RingBand[] {
  const done = new Set<Peak>();
  const ringS = spectrum.length / spectrum.sampleRateHz;
  const bands: RingBand[] = [];
  for (const lead of loudestFirst) {
    if (bands.length >= mostBands) break;
    if (done.has(lead)) continue;
    const f = lead.frequencyHz;
    const coreHz = Math.max(0.016 * f, 8);
    const wantedS = f < 110 ? 0.05 : Math.max(0.012, Math.min(0.028, 0.9 / coreHz));
    const filterS = Math.min(wantedS, SHORT * ringS);
    let taken = takeBand(spectrum, f, filterS);
    // Filters come in steps: of a ring just too short for one of them the next shorter leaves enough.
    if (taken.band.count < LEAST_COUNT) taken = takeBand(spectrum, f, filterS / 2);
    if (taken.band.count < LEAST_COUNT) continue;
    const peaks = loudestFirst.filter((p) => !done.has(p) && Math.abs(p.frequencyHz - f) < coreHz);
    for (const p of peaks) done.add(p);
    const floor = noise ? (2 * noise.densityAt(f) * taken.band.rateHz) / taken.band.correlation : 0;
    bands.push({
      peaks,
      centreHz: f,
      coreHz,
      raw: { ...taken.band, count: soundingCount(taken.band, floor) },
      elapsedS: skipS + taken.startS,
      startS: taken.startS,
      filterS: taken.filterS,
      levelDb: lead.levelDb,
    });
  }
  return bands;
}

/** Could a tone of the other band be heard in this one? Tones lie within 1.5 cores of a band's centre. */
export const reachesInto = (other: RingBand, b: RingBand): boolean =>
  (Math.abs(other.centreHz - b.centreHz) - 1.5 * other.coreHz) * b.filterS < 4 &&
  other.levelDb > b.levelDb - FAR_BELOW_DB;
/** What is so much fainter is next to nothing after the band's own filter. */
const FAR_BELOW_DB = 40;

/** Farther from the centre, in cores, is what the filter's edge makes of something else. */
const OF_BAND = 1.4;
/** Is a tone at this frequency one of the band? */
export const isOf = (b: RingBand, frequencyHz: number): boolean =>
  Math.abs(frequencyHz - b.centreHz) <= OF_BAND * b.coreHz;

/**
 * The band with everything taken out that other bands are known to hold. What another one had to fit at its edge although it is this
 * one's stays: it is told here or nowhere.
 */
export function without(b: RingBand, bands: readonly RingBand[]): BandSignal {
  const samples = new Float64Array(b.raw.samples);
  for (const other of bands) {
    if (other === b || !other.model) continue;
    const { fit } = other.model;
    for (const c of fit.components) {
      const frequencyHz = other.raw.centreHz + c.omega / (2 * Math.PI);
      const off = frequencyHz - b.raw.centreHz;
      if (isOf(b, frequencyHz) && !isOf(other, frequencyHz)) continue;
      const gain = bandGain(off * b.filterS) / bandGain((c.omega / (2 * Math.PI)) * other.filterS);
      if (Math.abs(off) * b.filterS >= 4 || Math.abs(gain) < 1e-6 || Math.abs(gain) > 10) continue;
      subtract(samples, b, other, fit, c, gain);
    }
  }
  return { ...b.raw, samples };
}

/**
 * Takes a component of another band, as it is in this one, off its samples.
 * The two bands count their phase from their own centres, each from the segment's start.
 */
function subtract(samples: Float64Array, b: RingBand, other: RingBand, fit: DampedFit, c: Damped, gain: number) {
  const { count, rateHz } = b.raw;
  const late = b.elapsedS - other.elapsedS;
  const rate = fit.glideRate;
  const glide = c.glides ? fit.glide : 0;
  const left = glide * Math.exp(-rate * late);
  const turns = scratch('turns', b.raw.samples.length);
  glideTurns({ ...b.raw, centreHz: other.raw.centreHz }, left, rate, turns);
  const apart = 2 * Math.PI * (other.raw.centreHz - b.raw.centreHz);
  const angle = c.omega * late + (2 * Math.PI * other.raw.centreHz * (glide - left)) / rate + apart * b.startS;
  const size = gain * Math.exp(-c.decay * late);
  let re = size * (c.re * Math.cos(angle) - c.im * Math.sin(angle));
  let im = size * (c.re * Math.sin(angle) + c.im * Math.cos(angle));
  const fall = Math.exp(-c.decay / rateHz);
  const zr = fall * Math.cos((c.omega + apart) / rateHz);
  const zi = fall * Math.sin((c.omega + apart) / rateHz);
  for (let i = 0; i < 2 * count; i += 2) {
    const cr = turns[i] as number;
    const ci = turns[i + 1] as number;
    samples[i] = (samples[i] as number) - (re * cr - im * ci);
    samples[i + 1] = (samples[i + 1] as number) - (re * ci + im * cr);
    const next = re * zr - im * zi;
    im = re * zi + im * zr;
    re = next;
  }
}
