import type { MeasureRefusal, Reading } from '../contract.ts';
import { lnStiffnessOf } from './clampedness.ts';
import { heardTones } from './heardTones.ts';
import { settleNumbering } from './settleNumbering.ts';
import type { Learned, SpokeTones } from './spokeTones.ts';
import type { ToneTable } from './toneTable.ts';
import { type WeighOptions, weighNumberings } from './weighNumberings.ts';

/**
 * Tension of one spoke from the tones of all its plucks.
 *
 * Method: every likely numbering of the tones is found by exhaustive search over tension and end stiffness, fitted with all unknown
 * inputs integrated out, and weighed by evidence; rivals are mixed into the interval or, far apart and close in evidence, refused.
 * @param learned what the wheel taught of ends, mass and stiffness, if it was measured before
 * @returns the reading, or why there is none; never throws for bad sound
 * @source Gelman et al., Bayesian Data Analysis (3rd ed., 2013), ch. 5, 22 (mixtures); JCGM 100:2008
 * @validity 20..3000 N; see MODEL.md
 */
export const measureSpoke = (spoke: SpokeTones, learned?: Learned): Reading | MeasureRefusal => {
  if (heardTones(spoke.plucks).length === 0) return { ok: false, reason: 'noTones' };
  const options = learned === undefined ? {} : priorsFrom(spoke, learned);
  const { tones, weighed } = weighNumberings(spoke, options);
  return settleNumbering(spoke, tones, weighed);
};

/** Typical tension at which the learned clampedness is turned back into stiffness, N. */
const TYPICAL = 900;
const SCATTER = 0.15;

const priorsFrom = (spoke: SpokeTones, learned: Learned): WeighOptions => {
  const { member } = spoke.prepared.described;
  const lnPrior = (value: number, u: number): { mean: number; sigma: number } => {
    const c = Math.min(Math.max(value, 0.02), 0.98);
    return { mean: lnStiffnessOf(member, c, TYPICAL), sigma: Math.hypot(u / (c * (1 - c)), SCATTER, 0.1) };
  };
  const hub = lnPrior(learned.hubEnd.value, learned.hubEnd.u);
  const rim = lnPrior(learned.rimEnd.value, learned.rimEnd.u);
  return {
    massPrior: { mean: learned.massFactor.value - 1, sigma: learned.massFactor.u },
    stiffnessPrior: { mean: learned.stiffnessFactor.value - 1, sigma: learned.stiffnessFactor.u },
    lnNodePrior: (table) => (spoke.spare === true ? undefined : nodePrior(table, hub, rim)),
  };
};

/** ln weights of the nodes under a normal prior of ln k at both ends, each node being a Gaussian of its own width. */
export const nodePrior = (
  table: ToneTable,
  hub: { readonly mean: number; readonly sigma: number },
  rim: { readonly mean: number; readonly sigma: number },
): Float64Array => {
  const out = new Float64Array(table.hub.lnK.length * table.rim.lnK.length);
  const ln = (x: number, at: { readonly mean: number; readonly sigma: number }, width: number): number =>
    (-0.5 * (x - at.mean) ** 2) / (at.sigma ** 2 + width ** 2);
  let sum = 0;
  table.hub.lnK.forEach((h, i) => {
    table.rim.lnK.forEach((r, j) => {
      const first =
        table.firstAxis === 'support'
          ? (table.lnPrior[i * table.rim.lnK.length] as number)
          : ln(h, hub, table.hub.sigma);
      const value = first + ln(r, rim, table.rim.sigma);
      out[i * table.rim.lnK.length + j] = value;
      sum += Math.exp(value);
    });
  });
  return out.map((v) => v - Math.log(sum));
};
