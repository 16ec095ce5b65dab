import type { UncertainInput } from '../../contract.ts';
import type { Wheel } from '../../spokes/wheel.ts';

/** What the uncertainty of a tension comes from, and what would narrow it. */
export const UNCERTAIN_INPUT_TEXT: Readonly<
  Record<UncertainInput, { readonly name: string; readonly narrow: string }>
> = {
  frequency: { name: 'the tones heard', narrow: 'Hear the spoke once or twice more in a quiet room.' },
  mass: {
    name: 'the spoke’s mass',
    narrow: 'Weigh a loose spoke of this kind; enter its mass and length under “Spokes”.',
  },
  length: {
    name: 'the free length',
    narrow: 'Measure the free length with a ruler to half a millimetre; enter it under “Lengths by ruler”.',
  },
  crossing: {
    name: 'the crossing’s place',
    narrow: 'Measure from the crossing to the rim with a ruler; enter it under “Lengths by ruler”.',
  },
  sections: {
    name: 'where butts or metal ends begin and end',
    narrow:
      'Measure the spoke’s ends and the nipple, as far as they are seen, with a ruler; enter them under “Spokes”, and how sure they are under “How sure the figures are”.',
  },
  stiffness: { name: 'the spoke’s bending stiffness', narrow: 'Measure the diameter with a micrometer.' },
  hubEnd: {
    name: 'how firmly the hub holds the spoke',
    narrow: 'Enter one spoke whose tension you know under “Known tensions”.',
  },
  rimEnd: {
    name: 'how firmly the rim holds the spoke',
    narrow: 'Enter one spoke whose tension you know under “Known tensions”.',
  },
  shear: {
    name: 'how far fibre composite gives way in shear',
    narrow: 'Enter one spoke whose tension you know under “Known tensions”.',
  },
  numbering: {
    name: 'which tone is which',
    narrow: 'Pluck in the middle and near one end, so that more tones are heard.',
  },
  model: { name: 'the model itself', narrow: 'Enter one spoke whose tension you know under “Known tensions”.' },
  calibration: { name: 'the calibration load', narrow: 'Calibrate again with a better known load.' },
};

/** What would narrow the ± that comes from an input, on this wheel: a spoke that was weighed is not to be weighed again, it is its head that is open. */
export function narrowText(input: UncertainInput, { kinds, sides }: Pick<Wheel, 'kinds' | 'sides'>): string {
  const weighed = sides && [sides.left, sides.right].every(({ kindId }) => kinds[kindId]?.weighed !== undefined);
  return UNCERTAIN_INPUT_TEXT[input === 'mass' && weighed ? 'rimEnd' : input].narrow;
}
