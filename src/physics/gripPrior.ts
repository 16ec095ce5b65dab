import { crossingSupport } from './crossingSupport.ts';
import type { Member } from './member.ts';
import type { Spread } from './spreadPrior.ts';

/** Stiffness of the hold as a part of the touching partner's own, and how likely each is. */
const PARTS = [0.1, 0.22, 0.48, 1.06];
const WEIGHTS = [0.1, 0.2, 0.35, 0.35];

/**
 * What is believed of the support at a held crossing, along the rim: friction and fingers give the touching partner's own stiffness at best
 * (`crossingSupport`), a slack grip a tenth of it, 3e5 N/m on steel; a row of Gaussians in ln K.
 * @source no published value exists; statics of the partner, and finite-element pairs with grips of 3e5 … 6e6 N/m
 */
export const gripPrior = (member: Member): Spread => {
  const partner = Math.log(crossingSupport(member));
  return {
    lnK: PARTS.map((part) => partner + Math.log(part)),
    sigma: 0.6 * Math.log((PARTS[1] as number) / (PARTS[0] as number)),
    weights: WEIGHTS,
  };
};
