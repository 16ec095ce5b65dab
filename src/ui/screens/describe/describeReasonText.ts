import type { DescribeReason } from '../../../spokes/describeRefusal.ts';

/** What stands in the way of a description, and what would be right. `detail` is the figure that the trade's rules name. */
export const describeReasonText: Readonly<Record<DescribeReason, (detail: string) => string>> = {
  countNotWhole: () => 'The number of spokes must be whole.',
  countOutOfRange: (d) => `A wheel has ${d} spokes.`,
  countOdd: (d) => `Left and right alternate, so the number must be even: ${d}.`,
  countNotTwoToOne: (d) =>
    `Two to one needs a number that divides by three: ${d}; or say how many the fuller side has.`,
  moreCountImpossible: (d) => `The fuller side may have ${d} spokes.`,
  sideCountOdd: (d) => `A crossed side needs as many spokes leading as trailing, an even number (${d}).`,
  crossesNotWhole: () => 'Crosses are counted whole: 0, 1, 2, 3 …',
  tooManyCrosses: (d) => `So many crosses do not fit this hub; right would be at most ${d}.`,
  notPositive: (d) => `This must be more than zero (it is ${d}).`,
  rimInsideHub: () => 'The rim would lie inside the hub: one of the two diameters is wrong.',
  pairTooWide: (d) => `Wider than the gap to the next pair (${d} mm): that is no pair.`,
  headBeyondCrossing: () => 'The head would sit beyond the crossing; this must be smaller.',
  partnerUnknown: (d) => `There is no spoke ${d} to touch.`,
  partnerNotMutual: (d) => `Touching is mutual: ${d}.`,
  crossingOutsideSpoke: (d) => `The crossing must lie on the spoke (${d}).`,
  evennessOnly: () => 'Only the sides are known; that is enough for evenness.',
  noSuchSpoke: (d) => `Spokes are numbered ${d}.`,
  noSides: () => 'Spokes are not described yet.',
  kindUnknown: (d) => `The spoke kind “${d}” is not in this wheel; choose one.`,
  noSections: () => 'The spoke kind has no section.',
  twoRests: () => 'Only one section may fill the rest of the length.',
  sectionsTooLong: (d) => `The spoke’s sections are longer than the spoke (${d}).`,
  sectionsTooShort: (d) => `The spoke’s sections are shorter than the spoke (${d}); let one fill the rest.`,
  shapeImpossible: (d) => `Such a section cannot be: ${d}.`,
  materialImpossible: (d) => `Such a material cannot be: ${d}.`,
  massImpossible: (d) => `Such a mass cannot be: ${d}.`,
  weighingContradicts: (d) =>
    `The scale and the dimensions contradict each other: ${d}. Weigh again, or check kind and length.`,
  nippleImpossible: (d) => `Such a nipple cannot be: ${d}.`,
  measuredImpossible: (d) => `The ruler’s figure cannot be: ${d}.`,
  uncertaintyImpossible: (d) => `This uncertainty cannot be: ${d}.`,
  endStiffnessImpossible: (d) => `The range of end stiffness cannot be: ${d}.`,
};
