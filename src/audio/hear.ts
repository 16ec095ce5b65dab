import type {
  CaptureSettings,
  ExpectedAtTension,
  Heard,
  HeardFlag,
  HearReason,
  HearRefusal,
  Tone,
} from '../contract.ts';
import { decibels, type Hertz, hertz, seconds } from '../units.ts';
import { HIGHEST_RATE_HZ, LOWEST_FILE_RATE_HZ } from './acceptSettings.ts';
import { decimate, decimationFor } from './downTo48k.ts';
import { findPeaks } from './findPeaks.ts';
import { noiseBefore } from './noiseBefore.ts';
import { asHypothesis, proposeModes } from './proposeModes.ts';
import { realFft } from './realFft.ts';
import { type RefinedTone, type RefinedTones, refineTones } from './refineTones.ts';
import { ringSpectrum } from './ringSpectrum.ts';

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

/**
 * The tones of one pluck, or why there are none.
 * The way of a pluck: noise before, spectrum after, peaks, tones refined, modes proposed, refusals.
 * @param samples mono, full scale ±1, with up to 0.3 s before the onset.
 * @throws RangeError for a rate outside 16–192 kHz or an onset outside the samples.
 */
export function hear(samples: Float32Array, o: HearOptions): Heard | HearRefusal {
  if (!(o.sampleRateHz >= LOWEST_FILE_RATE_HZ && o.sampleRateHz <= HIGHEST_RATE_HZ))
    throw new RangeError(`sampleRateHz is ${o.sampleRateHz}, expected 16000 to 192000`);
  if (!(o.onsetSample >= 0 && o.onsetSample < samples.length))
    throw new RangeError(`onsetSample is ${o.onsetSample}, expected 0 to ${samples.length - 1}`);
  const onsetS = seconds((o.startS ?? 0) + o.onsetSample / o.sampleRateHz);
  const refuse = (reason: HearReason, detail?: string): HearRefusal => ({
    ok: false,
    reason,
    onsetS,
    ...(detail === undefined ? {} : { detail }),
  });

  const factor = decimationFor(o.sampleRateHz);
  const rate = o.sampleRateHz / factor;
  const from = Math.max(0, Math.round(o.onsetSample - LONGEST_NOISE_S * o.sampleRateHz));
  const to = Math.min(
    samples.length,
    o.endSample ?? samples.length,
    Math.round(o.onsetSample + (o.maxRingS ?? 0.68) * o.sampleRateHz),
  );
  const stretch = decimate(samples.subarray(from, to), o.sampleRateHz, factor);
  const onset = Math.round((o.onsetSample - from) / factor);
  const ring = stretch.subarray(onset + Math.round(SKIP_S * rate));
  if (ring.length < 0.06 * rate) return refuse('cutShort');

  const noise = noiseBefore(stretch.subarray(0, Math.max(0, onset - Math.round(0.005 * rate))), rate);
  let size = 1024;
  while (size < ring.length) size *= 2;
  const peaks = findPeaks(ringSpectrum(ring, rate, size), noise);
  if (peaks.length === 0) return refuse('tooSoft');

  const refined = refineTones({ spectrum: longSpectrum(ring, rate, size), peaks, skipS: SKIP_S, mostBands: 12, noise });
  const { tones, covarianceHz2 } = deliver(refined);
  if (tones.length === 0) return refuse('muffled');
  const numberings = proposeModes(
    tones.map((t) => ({
      frequencyHz: t.frequencyHz,
      amplitude: 10 ** (t.levelDb / 20),
      ...(t.pairId === undefined ? {} : { pairId: t.pairId }),
    })),
    o.expected,
  );
  const flags: HeardFlag[] = [];
  return {
    ok: true,
    onsetS,
    sampleRateHz: o.sampleRateHz,
    tones,
    covarianceHz2,
    hypotheses: numberings.map(asHypothesis),
    flags,
    settings: o.settings,
  };
}

function longSpectrum(ring: Float32Array, sampleRateHz: number, size: number) {
  const padded = new Float64Array(size);
  padded.set(ring);
  return { bins: realFft(size).forward(padded).slice(), size, sampleRateHz, length: ring.length };
}

/** The loudest tones in ascending order with their covariance. */
function deliver(refined: RefinedTones): { tones: Tone[]; covarianceHz2: number[][] } {
  const kept = [...refined.tones]
    .sort((a, b) => b.amplitude - a.amplitude)
    .slice(0, MOST_TONES)
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
  const tones = kept.map((t) => ({
    frequencyHz: hertz(t.frequencyHz),
    uHz: hertz(Math.sqrt(t.varianceHz2)),
    levelDb: decibels(20 * Math.log10(t.amplitude)),
    decayS: seconds(t.decayS),
    snrDb: decibels(10 * Math.log10(t.snr)),
    ...(t.pairId === undefined ? {} : { pairId: t.pairId }),
  }));
  const between = (a: RefinedTone, b: RefinedTone) => {
    if (a === b) return a.varianceHz2;
    if (a.band !== b.band) return 0;
    const fit = refined.fits[a.band];
    if (!fit) return 0;
    const P = fit.parameters;
    const c = fit.covariance;
    const shared = (c[a.row * P + b.row] as number) / (4 * Math.PI * Math.PI);
    // The correlation of the fit, on variances that may have been widened.
    const own =
      Math.sqrt((c[a.row * P + a.row] as number) * (c[b.row * P + b.row] as number)) / (4 * Math.PI * Math.PI);
    return own > 0 ? (shared / own) * Math.sqrt(a.varianceHz2 * b.varianceHz2) : 0;
  };
  return { tones, covarianceHz2: kept.map((a) => kept.map((b) => between(a, b))) };
}
