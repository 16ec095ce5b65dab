import type { MeasureRefusal, Reading } from '../contract.ts';
import { clampedness } from './clampedness.ts';
import type { GroupOptions, Item, Joint } from './fitGroup.ts';
import type { FitSpoke } from './fitLine.ts';
import { fitShared } from './fitShared.ts';
import type { Normal } from './sharedErrors.ts';
import { shareVariance } from './shareVariance.ts';
import type { Learned } from './spokeTones.ts';

/** Departures beyond this many standard uncertainties contradict the description. */
const CONTRADICTION = 3;

/** Whether a known tension lies outside what all the tones say without it. */
const contradictsKnown = (joint: Joint, options: GroupOptions): boolean => {
  if (joint.spokes.every((spoke) => spoke.known === undefined)) return false;
  const unaided = joint.spokes.map(({ lines, lnT }): FitSpoke => ({ lines, lnT }));
  const fit = fitShared(unaided, options.grid, options.prior, options.lnNodePrior);
  const spokes = shareVariance(unaided, fit);
  return joint.spokes.some(({ known }, i) => {
    const fitted = spokes[i];
    if (known === undefined || fitted === undefined) return false;
    const allowed = Math.sqrt(known.sigma ** 2 + fitted.varOwn + fitted.varCommon);
    return Math.abs(known.lnT - fitted.lnT) > CONTRADICTION * allowed;
  });
};

/** Beyond a held crossing the hub's end is not heard: what was believed of it stays. */
const hubBefore = ({ spoke }: Item): { mean: number; variance: number } => {
  const { low, high } = spoke.prepared.endPrior.hub;
  return { mean: Math.log(low * high) / 2, variance: Math.log(high / low) ** 2 / 12 };
};

/** What a group's tones and calibrations taught, in the words of the screen. */
export const learnedFrom = (
  joint: Joint,
  options: GroupOptions,
  readings: ReadonlyMap<number, Reading | MeasureRefusal>,
  spares: readonly Item[],
): Learned => {
  const { shared } = joint.fit;
  const { member, uncertainty } = (joint.items[0] as Item).spoke.prepared.described;
  const meanT = Math.exp(joint.fit.spokes.reduce((sum, s) => sum + s.lnT, 0) / joint.fit.spokes.length);
  const end = (lnK: { mean: number; variance: number }): { value: number; u: number } => {
    const value = clampedness(member, lnK.mean, meanT);
    return { value, u: value * (1 - value) * Math.sqrt(lnK.variance) };
  };
  let contradiction = contradictsKnown(joint, options);
  const moved = (prior: Normal | undefined, sigma: number): boolean => {
    if (prior === undefined) return false;
    const gained = Math.sqrt(Math.max(sigma ** 2 - prior.sigma ** 2, (0.05 * sigma) ** 2));
    return Math.abs(prior.mean) > CONTRADICTION * gained;
  };
  if (moved(options.massPrior, uncertainty.massRelative)) contradiction = true;
  if (moved(options.stiffnessPrior, uncertainty.stiffnessRelative)) contradiction = true;
  if (spares.some((s) => s.spoke.known !== undefined && readings.get(s.spoke.id)?.ok === false)) contradiction = true;
  return {
    hubEnd: end(options.grid.firstAxis === 'support' ? hubBefore(joint.items[0] as Item) : shared.hubEnd),
    rimEnd: end(shared.rimEnd),
    massFactor: { value: 1 + shared.mass.mean, u: Math.sqrt(shared.mass.variance) },
    stiffnessFactor: { value: 1 + shared.stiffness.mean, u: Math.sqrt(shared.stiffness.variance) },
    degreesOfFreedom: Math.max(joint.fit.degreesOfFreedom - 2, 0),
    contradiction,
  };
};
