import type { UncertainInput } from '../../contract.ts';

/** What the uncertainty of a tension comes from, and what would narrow it. */
export const UNCERTAIN_INPUT_TEXT: Readonly<
  Record<UncertainInput, { readonly name: string; readonly narrow: string }>
> = {
  frequency: { name: 'the tones heard', narrow: 'Hear the spoke once or twice more in a quiet room.' },
  mass: { name: 'the spoke’s mass', narrow: 'Weigh one loose spoke of this kind and enter mass and length.' },
  length: { name: 'the free length', narrow: 'Measure the free length with a ruler to half a millimetre.' },
  crossing: { name: 'the crossing’s place', narrow: 'Measure from the crossing to the rim with a ruler.' },
  sections: {
    name: 'where butts or metal ends begin and end',
    narrow: 'Measure the spoke’s end pieces and the visible nipple, and enter them.',
  },
  stiffness: { name: 'the spoke’s bending stiffness', narrow: 'Measure the diameter with a micrometer.' },
  hubEnd: { name: 'how firmly the hub holds the spoke', narrow: 'Calibrate with one spoke at a known tension.' },
  rimEnd: { name: 'how firmly the rim holds the spoke', narrow: 'Calibrate with one spoke at a known tension.' },
  numbering: {
    name: 'which tone is which',
    narrow: 'Pluck in the middle and near one end, so that more tones are heard.',
  },
  model: { name: 'the model itself', narrow: 'Calibrate with one spoke at a known tension.' },
  calibration: { name: 'the calibration load', narrow: 'Calibrate again with a better known load.' },
};
