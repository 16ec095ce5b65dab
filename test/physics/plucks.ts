import type { How, Tone } from '../../src/contract.ts';
import type { PreparedMember } from '../../src/physics/prepareMember.ts';
import type { PluckTones, SpokeTones } from '../../src/physics/spokeTones.ts';
import { decibels, hertz, seconds } from '../../src/units.ts';

export const ALONG: How = { crossing: 'held', direction: 'inPlane' };
export const UNCROSSED: How = { crossing: 'none', direction: 'inPlane' };

/** [frequency Hz, level dB below the loudest] pairs as tones, 0.05 % sure unless said. */
export const tonesOf = (list: readonly (readonly [number, number])[], relative = 0.0005): Tone[] =>
  [...list]
    .sort((a, b) => a[0] - b[0])
    .map(([f, below]) => ({
      frequencyHz: hertz(f),
      uHz: hertz(f * relative),
      levelDb: decibels(-20 - below),
      decayS: seconds(0.4),
      snrDb: decibels(40 - below),
    }));

export const pluckOf = (tones: readonly Tone[], how: How): PluckTones => ({
  tones,
  covarianceHz2: tones.map((t, i) => tones.map((_, j) => (i === j ? t.uHz ** 2 : 0))),
  hypotheses: [],
  flags: [],
  how,
});

export const spokeOf = (
  prepared: PreparedMember,
  plucks: readonly PluckTones[],
  more: Partial<SpokeTones> = {},
): SpokeTones => ({ id: 1, prepared, plucks, group: 'left', ...more });
