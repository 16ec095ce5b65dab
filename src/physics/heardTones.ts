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
}

const LOWEST_HZ = 30;
/** Above it tones say nothing of tension: bending rules. @source own finite-element trial: above 3 kHz nothing is won */
const HIGHEST_HZ = 6000;
const MOST_TONES = 14;
/** Two plucks of one spoke never agree better: bearing of fingers, temperature. @source own trial, below 0.01 % */
const FLOOR = 5e-5;

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
    const level = (x: (typeof usable)[number]): number => (Number.isFinite(x.tone.levelDb) ? x.tone.levelDb : 0);
    usable.sort((a, b) => level(b) - level(a));
    const loudest = usable[0];
    if (loudest === undefined) return;
    for (const entry of usable.slice(0, MOST_TONES)) {
      const { tone, index } = entry;
      const below = level(loudest) - level(entry);
      const u = Number.isFinite(tone.uHz) && tone.uHz > 0 ? tone.uHz : 0.001 * tone.frequencyHz;
      out.push({
        pluck,
        index,
        frequencyHz: tone.frequencyHz,
        lnF: Math.log(tone.frequencyHz),
        sigma: Math.max(u / tone.frequencyHz, FLOOR),
        below,
        pairId: tone.pairId,
        lnForeign: Math.min(-3.4 + 0.11 * below, -0.8),
      });
    }
  });
  return out;
};
