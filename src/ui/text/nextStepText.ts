import type { NextSteps, Remedy } from '../../spokes/nextSteps.ts';

/** What a person can do about an uncertain input. */
export const REMEDY_TEXT: Readonly<Record<Remedy, string>> = {
  hearAgain: 'Hear the spokes once or twice more in a quiet room.',
  measureLength: 'Measure the free length with a ruler, to half a millimetre.',
  measureCrossing: 'Measure from the crossing to the rim with a ruler.',
  weighSpoke: 'Weigh loose spokes of this kind, ten together if the scale is coarse, and enter mass and length.',
  calibrate: 'Calibrate with one spoke at a known tension: then hub and rim need not be guessed.',
  holdFirmly: 'Hold the crossing firmly and pluck at two places, in the middle and near the rim.',
  none: 'Nothing you measure narrows this part; it is the model’s own.',
};

type Because = NextSteps['hearAgain'][number]['because'];

/** Why a spoke should be heard again. */
export const HEAR_AGAIN_TEXT: Readonly<Record<Because, string>> = {
  refused: 'No tension could be made of its tones.',
  unsettled: 'Its plucks do not agree yet.',
  poorFit: 'Its tones fit the description worse than chance allows.',
  uncertain: 'Its interval is wider than those of the other spokes.',
};
