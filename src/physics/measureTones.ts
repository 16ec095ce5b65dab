import type { How, MeasureRefusal, Reading, Tone } from '../contract.ts';
import { decibels, type Hertz, seconds } from '../units.ts';
import { measureSpoke } from './measureSpoke.ts';
import type { PreparedMember } from './prepareMember.ts';
import type { Learned } from './spokeTones.ts';

/** A tone typed by hand, from any tuner. */
export interface TypedTone {
  readonly frequencyHz: Hertz;
  /** Standard uncertainty; half the last digit shown, at least. */
  readonly uHz: Hertz;
}

/**
 * Tension from typed tones: the same inversion as for heard ones, without levels (all count as equally loud) and without an ear's
 * proposal.
 * @param tones any order, > 0 Hz
 */
export const measureTones = (
  prepared: PreparedMember,
  tones: readonly TypedTone[],
  how: How,
  learned?: Learned,
): Reading | MeasureRefusal => {
  const sorted = [...tones].sort((a, b) => a.frequencyHz - b.frequencyHz);
  const heard = sorted.map(
    (tone): Tone => ({ ...tone, levelDb: decibels(-20), decayS: seconds(0.3), snrDb: decibels(30) }),
  );
  const covarianceHz2 = heard.map((a, i) => heard.map((_, j) => (i === j ? a.uHz ** 2 : 0)));
  const plucks = [{ tones: heard, covarianceHz2, hypotheses: [], flags: [], how }];
  return measureSpoke({ id: 0, prepared, plucks, group: 'typed' }, learned);
};
