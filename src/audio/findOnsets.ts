import { nthSmallest } from './nthSmallest.ts';
import { realFft } from './realFft.ts';

/** A sudden broad rise. */
export interface Onset {
  /** Index from the first sample pushed. */
  readonly sample: number;
  /** Sum over the bands of the rise above 4 dB, dB. */
  readonly strength: number;
  /** Samples pushed when it became certain. */
  readonly foundAt: number;
}

/** Finds onsets in a stream. */
export interface OnsetFinder {
  /** Takes the next samples; calls `found` for each onset as it becomes certain, some 20 ms after it. */
  push(samples: Float32Array, found: (onset: Onset) => void): void;
  /** Samples were lost: what was known of the levels is forgotten. */
  gap(lostSamples: number): void;
}

const BANDS = 22;
const LOWEST_HZ = 100;
const HIGHEST_HZ = 12_000;
const FRAME_S = 0.0213;
const HOP_S = FRAME_S / 4;
/** Rises below this are the flicker of noise in a narrow band. */
const IGNORED_DB = 4;
/** Sum of rises that is an onset; the last of ear trials on noise and speech. */
const FIRE = 26;
/** Of that, at least so many bands must take part: a beat or a neighbour's swell moves one or two. */
const LEAST_BANDS = 5;
/** Where a hiss drowns all but one tone, its start shows in three bands, through the frame's side lobes: each must rise by 16 dB. */
const TONE_BANDS = 3;
const FIRE_TONE = 36;
const MEMORY_FRAMES = 36;
/** Frames whose strongest value is the comparison too: a rise is new, not the rest of an old one. */
const RECENT_FROM = 3;
const RECENT_TO = 7;
/** Between two onsets. A pluck so soon after a freehub's click is its own onset; the ear decides which of the two rings. */
export const REFRACTORY_S = 0.02;
/** Of steps nearly as steep the first is the onset: a ring's own periods make later ones. */
const NEAR_STEEPEST = 0.6;
/** Below this a band is silent, dB full scale. */
const FLOOR_DB = -118;

/**
 * Multi-band spectral flux, streaming.
 * Frames of 21 ms every 5 ms give the level of 22 bands, evenly spaced in log frequency; each band is compared with the 60th
 * percentile of its last 190 ms and with its own recent maximum, and the rises above 4 dB are summed. The onset is then
 * placed where the energy of 2 ms steps up most. No allocation while streaming.
 * @param sampleRateHz 16–192 kHz.
 * @source Dixon 2006, DAFx-06 (spectral flux); Böck and Widmer 2013, DAFx-13 (comparison with a maximum of several frames).
 */
export function findOnsets(sampleRateHz: number): OnsetFinder {
  let frame = 256;
  while (frame < 0.75 * FRAME_S * sampleRateHz) frame *= 2;
  const hop = Math.max(1, Math.round(HOP_S * sampleRateHz));
  const fft = realFft(frame);
  // A power of two, as the frame is: `& wrap` leads round the ring.
  const keep = 4 * frame;
  const wrap = keep - 1;
  const ring = new Float32Array(keep);
  const window = Float64Array.from(
    { length: frame },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / frame),
  );
  const work = new Float64Array(frame);
  const bandOf = bandEdges(frame, sampleRateHz);
  const history = new Float64Array(BANDS * MEMORY_FRAMES).fill(FLOOR_DB);
  const energyTo = new Float64Array(keep);
  const scratch = new Float64Array(MEMORY_FRAMES);
  let frames = 0;
  let total = 0;
  let untilHop = frame;
  let lastOnset = Number.NEGATIVE_INFINITY;
  let above = false;

  const levels = new Float64Array(BANDS);
  const measure = () => {
    const from = total - frame;
    for (let i = 0; i < frame; i++) work[i] = (ring[(from + i) & wrap] as number) * (window[i] as number);
    const bins = fft.forward(work);
    for (let b = 0; b < BANDS; b++) {
      let power = 0;
      const to = bandOf[b + 1] as number;
      for (let k = bandOf[b] as number; k < to; k++)
        power += (bins[2 * k] as number) ** 2 + (bins[2 * k + 1] as number) ** 2;
      levels[b] = Math.max(FLOOR_DB, 10 * Math.log10((power * 16) / (frame * frame) / 3 + 1e-30));
    }
  };
  const flux = (): number => {
    let sum = 0;
    let taking = 0;
    const have = Math.min(frames, MEMORY_FRAMES);
    for (let b = 0; b < BANDS; b++) {
      const first = b * MEMORY_FRAMES;
      let recent = Number.NEGATIVE_INFINITY;
      for (let ago = RECENT_FROM; ago <= Math.min(RECENT_TO, have); ago++)
        recent = Math.max(recent, history[first + ((frames - ago) % MEMORY_FRAMES)] as number);
      // Most bands do not rise over their recent maximum: what is usual need not be known.
      if ((levels[b] as number) - recent <= IGNORED_DB) continue;
      for (let i = 0; i < have; i++) scratch[i] = history[first + i] as number;
      const usual = nthSmallest(scratch, have, Math.floor(0.6 * have));
      const rise = (levels[b] as number) - Math.max(usual, recent) - IGNORED_DB;
      if (rise > 0) {
        sum += rise;
        taking++;
      }
    }
    return taking >= LEAST_BANDS || (taking >= TONE_BANDS && sum >= FIRE_TONE) ? sum : 0;
  };
  const step = (found: (onset: Onset) => void) => {
    measure();
    // Not before the levels are known for 60 ms.
    const strength = frames >= 12 ? flux() : 0;
    for (let b = 0; b < BANDS; b++) history[b * MEMORY_FRAMES + (frames % MEMORY_FRAMES)] = levels[b] as number;
    frames++;
    if (strength < FIRE) {
      above = false;
      return;
    }
    if (above) return;
    above = true;
    const sample = place();
    if (sample - lastOnset < REFRACTORY_S * sampleRateHz) return;
    lastOnset = sample;
    found({ sample, strength, foundAt: total });
  };
  /** First step of 2 ms energy, above 150 Hz, that comes near the steepest of the last frame and a half. */
  const place = (): number => {
    const short = Math.max(8, Math.round(0.002 * sampleRateHz));
    const count = Math.min(keep, total, frame + hop + 4 * short);
    const from = total - count;
    const follow = 1 - Math.exp((-2 * Math.PI * 150) / sampleRateHz);
    let slow = ring[from & wrap] as number;
    let sum = 0;
    for (let i = 0; i < count; i++) {
      const v = ring[(from + i) & wrap] as number;
      slow += follow * (v - slow);
      sum += (v - slow) ** 2;
      energyTo[i] = sum;
    }
    const between = (a: number, b: number) => (energyTo[b] as number) - (energyTo[a] as number);
    const stride = Math.max(1, short >> 4);
    let most = 0;
    for (let at = short; at + short < count; at += stride)
      most = Math.max(most, between(at, at + short) - between(at - short, at));
    for (let at = short; at + short < count; at += stride)
      if (between(at, at + short) - between(at - short, at) >= NEAR_STEEPEST * most) return from + at;
    return total - frame;
  };
  return {
    push(samples, found) {
      for (let i = 0; i < samples.length; i++) {
        ring[total & wrap] = samples[i] as number;
        total++;
        if (--untilHop === 0) {
          untilHop = hop;
          step(found);
        }
      }
    },
    gap(lostSamples) {
      total += lostSamples;
      ring.fill(0);
      frames = 0;
      above = false;
      untilHop = frame;
    },
  };
}

/** First bin of each band and the end of the last; every band holds at least one bin. */
function bandEdges(frame: number, sampleRateHz: number): Int32Array {
  const top = Math.min(HIGHEST_HZ, 0.45 * sampleRateHz);
  const edges = new Int32Array(BANDS + 1);
  for (let b = 0; b <= BANDS; b++) {
    const hz = LOWEST_HZ * (top / LOWEST_HZ) ** (b / BANDS);
    const bin = Math.round((hz * frame) / sampleRateHz);
    edges[b] = b === 0 ? Math.max(1, bin) : Math.max((edges[b - 1] as number) + 1, bin);
  }
  return edges;
}
