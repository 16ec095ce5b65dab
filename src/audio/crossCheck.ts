import { Macleod } from 'pitchfinder/lib/detectors/macleod.js';
import { YIN } from 'pitchfinder/lib/detectors/yin.js';
import { realFft } from './realFft.ts';
import type { LongSpectrum } from './takeBand.ts';

/** Samples a period at which the detectors are run. */
const PER_PERIOD = 16;
/** How many of them; one more than a power of two, as YIN uses the largest power of two below: its time grows as the square. */
const YIN_LENGTH = 257;
const MPM_LENGTH = 384;
const LENGTH = 513;
/** Half width of the band that is left, relative. */
const HALF_WIDTH = 0.12;

/**
 * The first tone by autocorrelation: an answer of another kind, from the same sound.
 * The tone is cut out by a band-pass, free of a direct part and scaled to peak 1, and brought to some 16 to 32 samples a period; there
 * one partial is left, so the detectors are not pulled by inharmonicity, and their level and length defects do not bite.
 * @returns Hz of each detector that gave an answer, each run only when asked for; a doublet beats, so up to 1 % beside the tone is
 *   agreement.
 * @source de Cheveigné and Kawahara 2002, JASA 111:1917 (YIN); McLeod and Wyvill 2005, ICMC (MPM); both from pitchfinder.
 */
export function* crossCheck(spectrum: LongSpectrum, toneHz: number): Generator<number> {
  const binHz = spectrum.sampleRateHz / spectrum.size;
  const wanted = PER_PERIOD * toneHz;
  // The transform length gives the rate: the next power of two above the wanted one.
  let size = 64;
  while (size * binHz < wanted) size *= 2;
  const bins = new Float64Array(2 * size);
  const centre = toneHz / binHz;
  const half = HALF_WIDTH * centre;
  for (
    let k = Math.max(1, Math.ceil(centre - half));
    k <= Math.min(size / 2 - 1, spectrum.bins.length / 2 - 1, Math.floor(centre + half));
    k++
  ) {
    const w = 0.5 + 0.5 * Math.cos((Math.PI * (k - centre)) / half);
    const re = w * (spectrum.bins[2 * k] as number);
    const im = w * (spectrum.bins[2 * k + 1] as number);
    bins[2 * k] = re;
    bins[2 * k + 1] = im;
    bins[2 * (size - k)] = re;
    bins[2 * (size - k) + 1] = -im;
  }
  const time = realFft(size).inverse(bins);
  const rate = size * binHz;
  // The band-pass rings before the segment's start: begin a few periods after it.
  const first = Math.min(size >> 2, Math.round((3 * rate) / toneHz));
  const length = Math.min(LENGTH, size - first);
  const cut = new Float32Array(length);
  let peak = 1e-30;
  for (let i = 0; i < length; i++) peak = Math.max(peak, Math.abs(time[2 * (first + i)] as number));
  for (let i = 0; i < length; i++) cut[i] = (time[2 * (first + i)] as number) / peak;
  const yin = (length: number) => YIN({ sampleRate: rate, threshold: 0.15 })(cut.subarray(0, length)) ?? 0;
  const short = yin(YIN_LENGTH);
  if (short > 0) yield short;
  const mpm = cut.subarray(0, MPM_LENGTH);
  const { freq } = Macleod({ sampleRate: rate, bufferSize: mpm.length, cutoff: 0.9 })(mpm);
  if (freq > 0) yield freq;
  const long = yin(LENGTH);
  if (long > 0) yield long;
}
