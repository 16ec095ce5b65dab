import type { Tone } from '../contract.ts';
import type { PluckTones } from './spokeTones.ts';

/** One tone of one pluck, as the search sees it. */
export interface HeardTone {
  readonly pluck: number;
  readonly index: number;
  readonly frequencyHz: number;
  readonly lnF: number;
  /** Standard uncertainty of ln f by the ear. */
  readonly sigma: number;
  /** dB below the loudest tone of its pluck, ≥ 0. */
  readonly below: number;
  readonly pairId: number | undefined;
  /** ln of the density, per nat and dB, with which tones of other origin turn up at this level. */
  readonly lnForeign: number;
  /** ln evidence of how long it rings: of a spoke's own tone against others. */
  readonly lnRing: number;
}

const LOWEST_HZ = 30;
/** Above it tones say nothing of tension: bending rules. @source own finite-element trial: above 3 kHz nothing is won */
const HIGHEST_HZ = 6000;
const MOST_TONES = 14;
/** Two plucks of one spoke never agree better: bearing of fingers, temperature. @source own trial, below 0.01 % */
const FLOOR = 5e-5;

/** A tone that dies sooner than this is loud for a moment only: its level is that of the energy it brings. */
const BRIEF_S = 0.05;
const brevityDb = (decayS: number): number => (decayS > 0 ? Math.min(0, 10 * Math.log10(decayS / BRIEF_S)) : 0);
const lnQuality = (tone: { readonly frequencyHz: number; readonly decayS: number }): number =>
  Math.log(Math.PI * tone.frequencyHz * tone.decayS);
const upperQuartile = (values: readonly number[]): number => {
  const sorted = values.filter(Number.isFinite).sort((a, b) => a - b);
  return sorted[Math.floor(0.75 * sorted.length)] ?? Number.NaN;
};
/**
 * Decay is evidence: along the rim the plucked spoke rings nearly as long as anything in the pluck, while what fingers, rim and the other
 * plane take part in dies earlier. Two normal densities of ln Q, bounded.
 * @param x ln Q below the upper quartile of the pluck's tones
 * @source own coupled finite-element plucks of 48 wheels: Q of own tones 250–750 (steel), 100–200 (composite); of others 110–570
 */
const lnRing = (x: number): number => {
  if (!Number.isFinite(x)) return 0;
  const own = -0.5 * ((x + 0.3) / 0.7) ** 2 - Math.log(0.7);
  const other = -0.5 * (x + 0.9) ** 2;
  return Math.max(own - other, -4);
};

/** Standard uncertainty of a tone's frequency, Hz: a tenth of a per cent where none is stated. */
const uOf = ({ frequencyHz, uHz }: Tone): number => (Number.isFinite(uHz) && uHz > 0 ? uHz : 0.001 * frequencyHz);

/** Chance that a tone pulls at the rim with twice its frequency too, at a level that may be anything within so many dB. */
const DOUBLED = 0.1;
const ANY_LEVEL_DB = 45;
/** Tones of one mode in the two planes lie this near, ln f; what drives them at once has the sum of their frequencies. */
const ONE_MODE = 0.03;
/** How nearly a heard sum is one, ln f: tones are heard in the limit of no amplitude, a sum is made at full swing. */
const SUM_FLOOR = 3e-4;
/** Where a swinging spoke's own tension may pull at the rim: a frequency and its standard uncertainty, Hz. */
interface Pull {
  readonly hz: number;
  readonly u: number;
}
/** Twice each tone, and the sums of one mode's tones in the two planes. */
const pullsOf = (tones: readonly Tone[]): Pull[] =>
  tones.flatMap((low, i) =>
    tones
      .slice(i)
      .filter((high) => Math.abs(Math.log(low.frequencyHz / high.frequencyHz)) <= ONE_MODE)
      .map((high) => ({ hz: low.frequencyHz + high.frequencyHz, u: Math.hypot(uOf(low), uOf(high)) })),
  );
/**
 * Density, per nat and dB, of tones where this one is that are twice another: a swinging spoke is stretched twice a period, and its tension
 * pulls at the rim with the sums of its tones' frequencies. A stiff member's own second tone lies above twice its first.
 * @source Conklin, J. Acoust. Soc. Am. 105 (1999), 536 (phantom partials of strings); Legge & Fletcher, J. Acoust. Soc. Am. 76 (1984), 5
 */
const pullDensity = (tone: Tone, pulls: readonly Pull[]): number => {
  let density = 0;
  for (const { hz, u } of pulls) {
    const off = tone.frequencyHz / hz - 1;
    if (Math.abs(off) > ONE_MODE) continue;
    const sigma = Math.hypot(SUM_FLOOR, Math.hypot(uOf(tone), u) / hz);
    density += ((DOUBLED / ANY_LEVEL_DB) * Math.exp(-0.5 * (off / sigma) ** 2)) / (sigma * Math.sqrt(2 * Math.PI));
  }
  return density;
};

/**
 * The tones of all plucks that may belong to the spoke, the loudest of each pluck.
 *
 * Foreign tones are rare at the level of the loudest and common 20 dB below it: a neighbour answers with its complete comb at
 * −20…−40 dB, the spoke before at −15…−30 dB.
 */
export const heardTones = (plucks: readonly PluckTones[]): HeardTone[] => {
  const out: HeardTone[] = [];
  plucks.forEach(({ tones }, pluck) => {
    const usable = tones
      .map((tone, index) => ({ tone, index }))
      .filter(
        ({ tone }) =>
          Number.isFinite(tone.frequencyHz) && tone.frequencyHz > LOWEST_HZ && tone.frequencyHz < HIGHEST_HZ,
      );
    const level = (x: (typeof usable)[number]): number =>
      (Number.isFinite(x.tone.levelDb) ? x.tone.levelDb : 0) + brevityDb(x.tone.decayS);
    usable.sort((a, b) => level(b) - level(a));
    const loudest = usable[0];
    if (loudest === undefined) return;
    const pulls = pullsOf(usable.map(({ tone }) => tone));
    const longest = upperQuartile(usable.filter((x) => level(loudest) - level(x) < 25).map((x) => lnQuality(x.tone)));
    for (const entry of usable.slice(0, MOST_TONES)) {
      const { tone, index } = entry;
      const below = level(loudest) - level(entry);
      out.push({
        pluck,
        index,
        frequencyHz: tone.frequencyHz,
        lnF: Math.log(tone.frequencyHz),
        sigma: Math.max(uOf(tone) / tone.frequencyHz, FLOOR),
        below,
        pairId: tone.pairId,
        lnForeign: Math.log(Math.exp(Math.min(-3.4 + 0.11 * below, -0.8)) + pullDensity(tone, pulls)),
        lnRing: lnRing(lnQuality(tone) - longest),
      });
    }
  });
  return out;
};
