import type { ToldGlide } from './toldGlides.ts';

/** Tones as they are laid: parallel lists. */
export interface ToneList {
  readonly ln: Float64Array;
  readonly lnAmplitude: Float64Array;
  /** The largest of these. */
  readonly lnLoudest: number;
  /** ln of the level shortly after the onset, over that of the highest. */
  readonly lnLevel: Float64Array;
  /** Density of tones of neighbours as strong and as long as this one that are expected where a mode of the spoke is, by ln frequency. */
  readonly neighbours: Float64Array;
  /** Relative rise of each at the onset, and how well it is told; Infinity where it is not. */
  readonly glide: Float64Array;
  readonly glideSigma: Float64Array;
  /** Index of the other tone of a doublet, −1 where there is none. */
  readonly mate: Int8Array;
}

/** What a numbering needs to know of a tone. */
export interface HeardTone {
  readonly frequencyHz: number;
  readonly amplitude: number;
  /** Time in which the amplitude falls to 1/e; absent where it is not known. */
  readonly decayS?: number;
  /** How its frequency rises at the onset; absent where it is not known. */
  readonly glide?: ToldGlide;
  readonly pairId?: number;
}

/** Neighbours within 8 % in frequency, one or two of them: so many by ln frequency. */
const NEIGHBOUR_DENSITY = 5;
/** They answer so far below, ln of amplitude. */
const NEIGHBOUR_BELOW = Math.log(10);
/** Decay times of a spoke's tones fall as this power of frequency; about that law they scatter so much, those of others so much (ln). */
const RING_FALL = 0.65;
const OWN_RING = 0.5;
const NEIGHBOUR_RING = 1.1;

export function listOf(tones: readonly HeardTone[]): ToneList {
  const lnAmplitude = Float64Array.from(tones, (t) => Math.log(t.amplitude + 1e-9));
  const level = Float64Array.from(tones, ({ decayS }, i) =>
    decayS === undefined ? (lnAmplitude[i] as number) : (lnAmplitude[i] as number) + earlier(decayS),
  );
  const highest = Math.max(...level);
  const lnLevel = level.map((l) => l - highest);
  return {
    ln: Float64Array.from(tones, (t) => Math.log(t.frequencyHz)),
    lnAmplitude,
    lnLoudest: Math.max(...lnAmplitude),
    lnLevel,
    neighbours: neighboursOf(tones, lnLevel),
    glide: Float64Array.from(tones, (t) => t.glide?.relative ?? 0),
    glideSigma: Float64Array.from(tones, (t) => t.glide?.sigma ?? Number.POSITIVE_INFINITY),
    mate: Int8Array.from(tones, (t, i) =>
      t.pairId === undefined ? -1 : tones.findIndex((other, k) => k !== i && other.pairId === t.pairId),
    ),
  };
}

/** ln of the level 15 ms after the onset over the amplitude that counts as loudness, see `heardAmplitude`. */
const earlier = (decayS: number): number => 0.015 / decayS - 0.5 * Math.log(decayS / 0.2);

/**
 * How many tones of neighbouring spokes to expect near a mode, by ln frequency: spokes of a side have like tensions, so their
 * tones crowd where the spoke's own are, 20 dB or more below it. They are not touched and ring on, often longer.
 */
function neighboursOf(tones: readonly HeardTone[], lnLevel: Float64Array): Float64Array {
  const rings = tones.map((t) =>
    t.decayS === undefined ? 0 : Math.log(t.decayS) + RING_FALL * Math.log(t.frequencyHz),
  );
  let weights = 0;
  let sum = 0;
  rings.forEach((r, i) => {
    const w = Math.exp(lnLevel[i] as number);
    weights += w;
    sum += w * r;
  });
  return Float64Array.from(rings, (r, i) => {
    const d = r - sum / weights;
    const faint = Math.min(0, -2 * ((lnLevel[i] as number) + NEIGHBOUR_BELOW));
    const longer = -0.5 * (d / NEIGHBOUR_RING) ** 2 + 0.5 * (d / OWN_RING) ** 2 - Math.log(NEIGHBOUR_RING / OWN_RING);
    return NEIGHBOUR_DENSITY * Math.exp(faint + Math.min(4, longer));
  });
}
