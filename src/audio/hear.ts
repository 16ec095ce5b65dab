import type {
  CaptureSettings,
  ExpectedAtTension,
  Heard,
  HeardFlag,
  HearReason,
  HearRefusal,
  Hypothesis,
  Tone,
} from '../contract.ts';
import { decibels, type Hertz, hertz, seconds } from '../units.ts';
import { HIGHEST_RATE_HZ, LOWEST_FILE_RATE_HZ } from './acceptSettings.ts';
import { crossCheck } from './crossCheck.ts';
import { decimate, decimationFor } from './downTo48k.ts';
import { findPeaks, type Peak } from './findPeaks.ts';
import { type Judgement, judgeSound } from './judgeSound.ts';
import { heardAmplitude } from './loudLines.ts';
import { type NoiseBefore, noiseBefore } from './noiseBefore.ts';
import { isHum, isMains, oldLines, wasThere } from './oldTones.ts';
import { type Numbering, proposeModes, rankOf } from './proposeModes.ts';
import { type RefinedTones, refineTones } from './refineTones.ts';
import { ringSpectra } from './ringSpectrum.ts';
import { setsFor } from './setsFor.ts';
import { type SoundShape, soundShape } from './soundShape.ts';
import type { LongSpectrum } from './takeBand.ts';
import { toldGlides } from './toldGlides.ts';
import type { HeardTone } from './toneList.ts';
import type { RefinedTone } from './tonesOfBand.ts';

export interface HearOptions {
  readonly sampleRateHz: Hertz;
  /** Index of the onset in the samples; what comes before is the noise. */
  readonly onsetSample: number;
  /** The ring is taken to end here: the next onset, or where the recording stops. */
  readonly endSample?: number;
  readonly expected?: readonly ExpectedAtTension[];
  readonly settings: CaptureSettings;
  /** Time of the first sample, added to the onset's. Default 0. */
  readonly startS?: number;
  /** Longest ring that is looked at, s after the onset. Default 0.68. */
  readonly maxRingS?: number;
}

/** From the onset to the first sample used: the click of finger or nail is over. */
const SKIP_S = 0.01;
const LONGEST_NOISE_S = 0.3;
const MOST_TONES = 16;
const MOST_BANDS = 12;
const MOST_PEAKS = 48;
/** Less ring than this tells nothing: four periods of the lowest tone, a window that parts neighbours by 20 Hz. */
const SHORTEST_RING_S = 0.07;
/** Share of samples at the peak from which a sound counts as clipped, and as too clipped to use. */
const CLIPPED = 0.02;
const RUINED = 0.8;
/** A numbering this far ahead of the next with another first tone (two nats), and with this evidence, is certain: odds of some 12 to 1. */
const CERTAIN_MARGIN = 0.24;
const CERTAIN_EVIDENCE = 2.5;
/** The same two nats for a faint first tone to be the spoke's own and not a neighbour's. */
const CERTAIN_OWN = 2;
/** Without a member other things than spokes must be excluded too: bells reach 8. And with free ratios a lead of the score counts. */
const CERTAIN_GUESS = 9;
const CERTAIN_GUESS_MARGIN = 0.08;
/** Loud tones so near to whole multiples are an instrument's string; a spoke's inharmonicity is 0.002 at the least: 0.3 % at mode 2. */
const HARMONIC = 0.0015;
/** Autocorrelation of a beating doublet strays so far. */
const AGREEMENT = 0.015;

/**
 * The tones of one pluck, or why there are none.
 * The way of a pluck: noise before, spectrum after, peaks, tones refined, old tones taken out, modes proposed, the sound judged,
 * the first tone cross-checked.
 * @param samples mono, full scale ±1, with up to 0.3 s before the onset.
 * @throws RangeError for a rate outside 16–192 kHz or an onset outside the samples.
 */
export function hear(samples: Float32Array, o: HearOptions): Heard | HearRefusal {
  const onsetS = seconds((o.startS ?? 0) + o.onsetSample / o.sampleRateHz);
  const refuse = (reason: HearReason): HearRefusal => ({ ok: false, reason, onsetS });

  const { stretch, onset, rate } = cutOut(samples, o);
  const ring = stretch.subarray(onset + Math.round(SKIP_S * rate));
  if (ring.length < SHORTEST_RING_S * rate) return refuse(o.endSample === undefined ? 'cutShort' : 'hitTwice');
  const shape = soundShape(stretch, onset, rate);
  if (shape.flatShare > RUINED) return refuse('clipped');

  const noise = noiseBefore(stretch.subarray(0, Math.max(0, onset - Math.round(0.005 * rate))), rate);
  const size = powerOfTwoFrom(ring.length);
  const spectra = ringSpectra(ring, rate, size);
  const seen = findPeaks(spectra.ring, noise, MOST_PEAKS);
  const lines = oldLines(seen, noise);
  const peaks = seen.filter((p) => !lines.includes(p)).slice(0, MOST_PEAKS / 2);
  const spectrum = { bins: spectra.bins, size, sampleRateHz: rate, length: ring.length };
  const refined = refineTones({ spectrum, peaks, skipS: SKIP_S, mostBands: MOST_BANDS, noise });
  const old = refined.tones.filter((t) => wasThere(t, noise));
  const tones = loudestOf(refined.tones.filter((t) => !old.includes(t)));

  const numberings = tones.length > 0 ? proposeModes(heardTones(tones, refined), o.expected) : [];
  const best = numberings[0];
  const judged = judgeSound({
    shape,
    tones,
    misfit: refined.misfit,
    tonalShare: tonalShare(stretch, onset, rate, refined.tones, noise),
    clipped: shape.flatShare > CLIPPED,
    sets: setsFor(o.expected),
  });
  if (judged.reason !== undefined || best === undefined) return refuse(judged.reason ?? 'muffled');
  return {
    ok: true,
    onsetS,
    sampleRateHz: o.sampleRateHz,
    tones: tones.map((t) => asTone(t, shape.peak)),
    covarianceHz2: covarianceOf(tones, refined),
    hypotheses: numberings.map(asHypothesis),
    flags: flagsOf({ shape, tones, old, lines, numberings, spectrum, ringS: ring.length / rate, judged }),
    settings: o.settings,
  };
}

/** The stretch that counts, at the rate of the analysis: up to 0.3 s before the onset, the ring after it. */
function cutOut(samples: Float32Array, o: HearOptions) {
  if (!(o.sampleRateHz >= LOWEST_FILE_RATE_HZ && o.sampleRateHz <= HIGHEST_RATE_HZ))
    throw new RangeError(`sampleRateHz is ${o.sampleRateHz}, expected 16000 to 192000`);
  if (!(o.onsetSample >= 0 && o.onsetSample < samples.length))
    throw new RangeError(`onsetSample is ${o.onsetSample}, expected 0 to ${samples.length - 1}`);
  const factor = decimationFor(o.sampleRateHz);
  const from = Math.max(0, Math.round(o.onsetSample - LONGEST_NOISE_S * o.sampleRateHz));
  const ringEnd = Math.round(o.onsetSample + (o.maxRingS ?? 0.66) * o.sampleRateHz);
  const to = Math.min(samples.length, o.endSample ?? samples.length, ringEnd);
  return {
    stretch: decimate(samples.subarray(from, to), o.sampleRateHz, factor),
    onset: Math.round((o.onsetSample - from) / factor),
    rate: o.sampleRateHz / factor,
  };
}

const powerOfTwoFrom = (length: number): number => {
  let size = 4096;
  while (size < length) size *= 2;
  return size;
};

/** Power of the tones over the power of the sound without its noise, 30–150 ms after the onset. */
function tonalShare(
  stretch: Float32Array,
  onset: number,
  rate: number,
  tones: readonly RefinedTone[],
  noise: NoiseBefore | undefined,
): number {
  const from = onset + Math.round(0.03 * rate);
  const to = Math.min(stretch.length, onset + Math.round(0.15 * rate));
  let power = 0;
  for (let i = from; i < to; i++) power += (stretch[i] as number) ** 2;
  power = power / Math.max(1, to - from) - (noise ? noise.rms ** 2 : 0);
  const endS = (to - onset) / rate;
  let tonal = 0;
  for (const { amplitude, decayS } of tones)
    tonal +=
      ((amplitude ** 2 * decayS) / 4) * ((Math.exp(-0.06 / decayS) - Math.exp((-2 * endS) / decayS)) / (endS - 0.03));
  // Where the noise before was as loud as the sound after, the share says nothing.
  return power > 0.1 * tonal ? tonal / power : 1;
}

interface FlagEvidence {
  readonly shape: SoundShape;
  readonly tones: readonly RefinedTone[];
  readonly old: readonly RefinedTone[];
  /** Peaks that were lines before. */
  readonly lines: readonly Peak[];
  readonly numberings: readonly Numbering[];
  readonly spectrum: LongSpectrum;
  readonly ringS: number;
  readonly judged: Judgement;
}
function flagsOf(e: FlagEvidence): HeardFlag[] {
  const flags: HeardFlag[] = [];
  const best = e.numberings[0] as Numbering;
  const firsts = e.tones.filter((_, i) => best.modes[i] === 1);
  if (firsts.length === 0) flags.push('firstToneInferred');
  const used = e.tones.filter((_, i) => (best.modes[i] as number) > 0);
  const strongest = (of: readonly RefinedTone[]) =>
    [...of].sort((a, b) => b.amplitude ** 2 * b.decayS - a.amplitude ** 2 * a.decayS)[0];
  const checked = strongest(firsts) ?? strongest(used);
  if (checked) {
    const near = (hz: number) =>
      e.tones.some(
        (t) => Math.abs(t.frequencyHz / checked.frequencyHz - 1) < 0.1 && Math.abs(hz / t.frequencyHz - 1) < AGREEMENT,
      );
    let asked = false;
    let agrees = false;
    for (const hz of crossCheck(e.spectrum, checked.frequencyHz)) {
      asked = true;
      agrees = near(hz);
      if (agrees) break;
    }
    if (asked && !agrees) flags.push('crossCheckDisagrees');
  }
  if (e.shape.flatShare > CLIPPED) flags.push('lightlyClipped');
  const humming = e.lines.some((l) => isMains(l.frequencyHz)) || [...e.old, ...e.tones].some(isHum);
  if (humming) flags.push('humPresent');
  const loudest = Math.max(...e.tones.map((t) => t.amplitude));
  const stranger = e.tones.some((t, i) => best.modes[i] === 0 && t.amplitude > 0.25 * loudest);
  if (e.old.some((t) => !isHum(t)) || e.lines.some((l) => !isMains(l.frequencyHz)) || stranger)
    flags.push('otherSpokeRinging');
  const rival = e.numberings.find((n) => Math.abs(n.lnFirst - best.lnFirst) > 0.03);
  const behind = rival ? rankOf(best) - rankOf(rival) : 1;
  if (
    !e.judged.certain ||
    behind < (best.guess ? CERTAIN_GUESS_MARGIN : CERTAIN_MARGIN) ||
    best.evidence < (best.guess ? CERTAIN_GUESS : CERTAIN_EVIDENCE) ||
    (!best.guess && best.firstOwn < CERTAIN_OWN) ||
    best.string ||
    isHarmonic(best, e.tones)
  )
    flags.push('numberingUncertain');
  if (e.judged.perhaps) flags.push('perhapsNoSpoke');
  const decay = strongest(used)?.decayS ?? 1;
  if (decay < 0.05 || e.ringS < 0.25) flags.push('shortRing');
  return flags;
}

/** Numbered by ratios alone, and every upper tone a whole multiple of the first. */
function isHarmonic(best: Numbering, tones: readonly RefinedTone[]): boolean {
  const first = tones.find((_, i) => best.modes[i] === 1);
  if (!best.guess || !first) return false;
  const upper = tones.filter((_, i) => (best.modes[i] as number) > 1);
  return (
    upper.length > 0 &&
    upper.every((t) => {
      const ratio = t.frequencyHz / first.frequencyHz;
      return Math.abs(ratio / Math.round(ratio) - 1) < HARMONIC;
    })
  );
}

const asHypothesis = (n: Numbering): Hypothesis => ({
  modes: n.modes,
  plane: n.plane,
  family: n.family,
  score: n.score,
  guess: n.guess,
});

/** The loudest tones, as they are 30 ms after the onset, ascending in frequency. */
const loudestOf = (tones: readonly RefinedTone[]): RefinedTone[] =>
  [...tones]
    .sort((a, b) => heardAmplitude(b) - heardAmplitude(a))
    .slice(0, MOST_TONES)
    .sort((a, b) => a.frequencyHz - b.frequencyHz);

function heardTones(tones: readonly RefinedTone[], { fits }: RefinedTones): HeardTone[] {
  const glides = toldGlides(tones, fits);
  return tones.map((t, i): HeardTone => {
    const glide = glides[i];
    return {
      frequencyHz: t.frequencyHz,
      amplitude: heardAmplitude(t),
      decayS: t.decayS,
      ...(glide ? { glide } : {}),
      ...(t.pairId === undefined ? {} : { pairId: t.pairId }),
    };
  });
}

/** A tone that dies within milliseconds, extrapolated back over the click, would come out louder than the whole sound. */
const asTone = (t: RefinedTone, peak: number): Tone => ({
  frequencyHz: hertz(t.frequencyHz),
  uHz: hertz(Math.sqrt(t.varianceHz2)),
  levelDb: decibels(20 * Math.log10(Math.min(t.amplitude, peak))),
  decayS: seconds(t.decayS),
  snrDb: decibels(10 * Math.log10(t.snr)),
  ...(t.pairId === undefined ? {} : { pairId: t.pairId }),
});

function covarianceOf(tones: readonly RefinedTone[], refined: RefinedTones): number[][] {
  const between = (a: RefinedTone, b: RefinedTone): number => {
    if (a === b) return a.varianceHz2;
    const fit = a.band === b.band ? refined.fits[a.band] : undefined;
    if (!fit) return 0;
    const at = (i: number, k: number) => fit.covariance[Math.max(i, k) * fit.parameters + Math.min(i, k)] as number;
    const own = Math.sqrt(at(a.row, a.row) * at(b.row, b.row));
    // The correlation of the fit, on variances that have been widened since.
    return own > 0 ? (at(a.row, b.row) / own) * Math.sqrt(a.varianceHz2 * b.varianceHz2) : 0;
  };
  return tones.map((a) => tones.map((b) => between(a, b)));
}
