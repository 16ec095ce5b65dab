import type { HeardPluck } from '../../src/spokes/walkRound.ts';
import { decibels, hertz, seconds } from '../../src/units.ts';

/** A pluck as the ear might have heard it: stiff partials on a first tone. */
export function pluck(
  id: string,
  firstHz: number,
  options: { readonly missing?: readonly number[]; readonly uRelative?: number } = {},
): HeardPluck {
  const { missing = [], uRelative = 2e-4 } = options;
  const tones = [1, 2, 3, 4]
    .filter((mode) => !missing.includes(mode))
    .map((mode) => {
      const frequencyHz = mode * firstHz * Math.sqrt(1 + 0.02 * mode ** 2);
      return {
        frequencyHz: hertz(frequencyHz),
        uHz: hertz(uRelative * frequencyHz),
        levelDb: decibels(-20 - 3 * mode),
        decayS: seconds(0.5),
        snrDb: decibels(35),
      };
    });
  return {
    id,
    at: '2026-01-01T00:00:00Z',
    how: { crossing: 'held', direction: 'inPlane' },
    tones,
    covarianceHz2: tones.map((tone, i) => tones.map((_, j) => (i === j ? tone.uHz ** 2 : 0))),
    hypotheses: [],
    flags: [],
  };
}
