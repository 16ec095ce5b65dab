import type { ToneList } from './toneList.ts';
import { nearestPoint, type SetTone, type ToneSet } from './toneSet.ts';

/** The strongest tone must tell its glide to this part of it; and below this no band is asked for the glide of another. */
const WELL_TOLD = 0.12;
const LEAST_GLIDE = 3e-4;
/** A glide told worse than this, as a share of what is expected, says nothing. */
const UNTOLD = 2;
/** A tone glides by its share to so much: its own swing adds up to half to what all of them do, and unknown ends leave the share open. */
const OWN_SPREAD = 0.2;
/** Another spoke's tension stays so. */
const STILL = 0.12;
/** Fits that found a glide beside the true one: anything to twice what is expected. */
const ASTRAY = 0.1;
const ROOT_2PI = Math.sqrt(2 * Math.PI);

/**
 * Relative rise of the tension at the onset, as one tone's glide has it; 0 where it does not tell.
 * @param share d ln frequency / d ln tension of that tone.
 */
export function tensionRise({ glide, glideSigma }: ToneList, i: number, share: number): number {
  const relative = glide[i] as number;
  return relative > LEAST_GLIDE && (glideSigma[i] as number) < WELL_TOLD * relative ? relative / share : 0;
}

const rises = new Float64Array(16);

/**
 * The same of all tones laid against a set: the median, as a fit may have gone astray.
 * @param lead the tone of each mode of the set, −1 where it has none. At most 16.
 * @param x the first tone at which the set is taken.
 */
export function commonRise(tones: ToneList, set: ToneSet, x: number, lead: Int8Array): number {
  const point = nearestPoint(set, x);
  let count = 0;
  for (let m = 0; m < set.modes.length; m++) {
    const i = lead[m] as number;
    const rise = i < 0 ? 0 : tensionRise(tones, i, (set.modes[m] as SetTone).share[point] as number);
    if (rise === 0) continue;
    let at = count++;
    for (; at > 0 && (rises[at - 1] as number) > rise; at--) rises[at] = rises[at - 1] as number;
    rises[at] = rise;
  }
  return count === 0 ? 0 : 0.5 * ((rises[count >> 1] as number) + (rises[(count - 1) >> 1] as number));
}

/**
 * ln of how much likelier a tone's glide is on a mode that is to glide so than on a spoke that was not plucked; 0 where it is not told.
 * One tension makes all tones of a spoke glide, each by its share of it.
 * @param wanted relative rise of the mode's frequency at the onset; 0: not known.
 * @source Tolonen, Välimäki and Karjalainen 2000, IEEE Trans. Speech Audio Process. 8:300 (the tension follows the energy)
 */
export function glideOdds(tones: ToneList, i: number, wanted: number): number {
  const sigma = spreadOf(tones, i, wanted);
  if (sigma === undefined) return 0;
  const ratio = (tones.glide[i] as number) / wanted;
  return Math.log(density(ratio - 1, both(OWN_SPREAD, sigma)) / density(ratio, both(STILL, sigma)));
}

/** ln of how likely a tone's glide is on such a mode over the likeliest glide there; 0 where it is not told. */
export function glideMisfit(tones: ToneList, i: number, wanted: number): number {
  const sigma = spreadOf(tones, i, wanted);
  if (sigma === undefined) return 0;
  const spread = both(OWN_SPREAD, sigma);
  return Math.log(density((tones.glide[i] as number) / wanted - 1, spread) / density(0, spread));
}

const spreadOf = ({ glideSigma }: ToneList, i: number, wanted: number): number | undefined => {
  const sigma = (glideSigma[i] as number) / wanted;
  return wanted > 0 && sigma < UNTOLD ? sigma : undefined;
};

/** Standard deviation of two independent ones together; a call of `hypot` takes many times as long. */
const both = (a: number, b: number): number => Math.sqrt(a * a + b * b);

/** Normal about 0, and some anywhere. */
const density = (off: number, sigma: number): number =>
  ((1 - ASTRAY) * Math.exp(-0.5 * (off / sigma) ** 2)) / (sigma * ROOT_2PI) + ASTRAY / 2;
