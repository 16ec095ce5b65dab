import type { PluckTones } from '../physics/spokeTones.ts';
import type { Pluck } from './wheel.ts';

/** What the member needs of a pluck. */
export const pluckTones = ({ tones, covarianceHz2, hypotheses, flags, how }: Pluck): PluckTones => ({
  tones,
  covarianceHz2,
  hypotheses,
  flags,
  how,
});
