import type { DescribeReason } from '../../../spokes/describeRefusal.ts';

/** What stands in the way of a description, and what to do about it. `detail` is the figure that the trade's rules name. */
export const describeReasonText: Readonly<Record<DescribeReason, (detail: string) => string>> = {
  countNotWhole: (d) => `The number of spokes must be whole (it is ${d}): count them.`,
  countOutOfRange: (d) => `A wheel has ${d} spokes: add or take out spokes until it does.`,
  countOdd: (d) => `Left and right alternate, so the number must be even: enter ${d}.`,
  countNotTwoToOne: (d) =>
    `Two to one needs a number that divides by three: enter one of ${d}, or say how many the fuller side has.`,
  moreCountImpossible: (d) => `The fuller side must have more than half and not all: enter ${d}.`,
  sideCountOdd: (d) =>
    `A crossed side needs as many spokes leading as trailing: make their number even, or enter ${d}.`,
  crossesNotWhole: () => 'Crosses are counted whole: enter 0, 1, 2 or more.',
  tooManyCrosses: (d) => `So many crosses do not fit this hub: enter ${d}.`,
  notPositive: (d) => `This is ${d}: enter a figure above zero.`,
  rimInsideHub: () => 'The rim would lie inside the hub: correct one of the two diameters.',
  pairTooWide: (d) => `${d} mm is wider than the gap to the next pair: measure the distance of the two holes again.`,
  headBeyondCrossing: () => 'The head would sit beyond the crossing: enter less.',
  partnerUnknown: (d) => `There is no spoke ${d} to touch: enter the number of another spoke of this wheel.`,
  partnerNotMutual: (d) => `Touching is mutual (${d}): give both spokes each other’s number, or empty this field.`,
  crossingOutsideSpoke: (d) => `The crossing must lie on the spoke: enter ${d} mm.`,
  evennessOnly: () => 'Only the sides are known; that is enough for evenness. For tensions start from another wheel.',
  noSuchSpoke: (d) => `Spokes are numbered ${d}: enter one of these.`,
  noSides: () => 'The spokes are not described yet: choose their kind under “Spokes”.',
  kindUnknown: (d) => `The spoke kind “${d}” is not in this wheel: choose one.`,
  noSections: () => 'The spoke kind has no section: choose another kind, or add one.',
  twoRests: () => 'Only one section may fill the rest of the length: give the others a length.',
  sectionsTooLong: (d) => `The spoke’s sections are longer than the spoke (${d}): shorten one.`,
  sectionsTooShort: (d) => `The spoke’s sections are shorter than the spoke (${d}): let one fill the rest.`,
  endInNipple: (d) =>
    `Of a loose spoke the last section runs to the end of the thread and would hide in the nipple: it must be ${d}. Measure it again.`,
  shapeImpossible: (d) => `Such a section cannot be; right would be ${d}. Measure it again.`,
  materialImpossible: (d) => `Such a material cannot be; right would be ${d}. Correct its figures.`,
  massImpossible: (d) => `Such a mass cannot be; right would be ${d}. Weigh again.`,
  weighingContradicts: (d) =>
    `The scale and the dimensions contradict each other; from the dimensions it would be ${d}. Weigh again, or check kind and length.`,
  nippleImpossible: (d) => `Such a nipple cannot be; right would be ${d}. Measure it again.`,
  measuredImpossible: (d) => `The ruler’s figure cannot be; right would be ${d}. Measure again.`,
  uncertaintyImpossible: (d) => `This uncertainty cannot be (${d}): enter a smaller one, above zero.`,
  endStiffnessImpossible: (d) =>
    `The range of end stiffness cannot be; right would be ${d}. Correct it in the wheel’s file.`,
};
