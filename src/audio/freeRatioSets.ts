import type { SetTone, ToneSet } from './toneSet.ts';

/** From nearly a string to shorter and thicker than any spoke. */
const INHARMONICITIES = [0, 0.001, 0.003, 0.006, 0.011, 0.018, 0.028, 0.042, 0.06, 0.085, 0.12, 0.17, 0.23, 0.31];
const MODES = 6;
const LOWEST_FIRST_HZ = 70;
const HIGHEST_FIRST_HZ = 1600;

let made: ToneSet[] | undefined;

/**
 * Tone sets of an undescribed member: stiff-string ratios for a range of inharmonicities, with wide tolerance.
 * Ratio of mode n to mode 1: n·√((1+Bn²)/(1+B)). Stepped and springy members leave that law by per cents above mode 2, so the
 * tolerance grows with n; the numbers that come of it are a guess.
 * @source Fletcher 1964, J. Acoust. Soc. Am. 36:203 (pinned stiff string)
 */
export function freeRatioSets(): ToneSet[] {
  if (made) return made;
  const from = Math.log(LOWEST_FIRST_HZ);
  const step = Math.log(HIGHEST_FIRST_HZ) - from;
  const independent = new Float64Array(MODES * MODES);
  made = INHARMONICITIES.map((B) => ({
    plane: 'unknown' as const,
    family: 'segment' as const,
    guess: true,
    from,
    step,
    modes: Array.from({ length: MODES }, (_, i): SetTone => {
      const n = i + 1;
      const ratio = Math.log(n) + 0.5 * Math.log((1 + B * n * n) / (1 + B));
      const u = 0.006 + 0.013 * i;
      return {
        numbers: Uint8Array.of(n, n),
        ln: Float64Array.of(from + ratio, from + step + ratio),
        u: Float64Array.of(u, u),
        ends: new Float64Array(2),
        share: new Float64Array(2).fill(0.5 / (1 + B * n * n)),
      };
    }),
    covariance: [independent, independent],
    companions: [],
  }));
  return made;
}
