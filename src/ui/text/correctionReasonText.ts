import type { CorrectionRefusal } from '../../spokes/stateCorrection.ts';
import type { Advice } from './advice.ts';

/** Why a tension was not carried over to the state for which its limit holds, and what would let it be. */
export const CORRECTION_REASON_TEXT: Readonly<Record<CorrectionRefusal['reason'], Advice>> = {
  notLaced: {
    sentence: 'No rim is described, so nothing tells how much it gives.',
    next: 'Hear the wheel in the state for which the limit holds.',
  },
  rimClassMissing: {
    sentence: 'The rim’s stiffness is not described.',
    next: 'Choose it under “Hub and rim”, or hear the wheel in the state for which the limit holds.',
  },
  rimMaterialUnknown: {
    sentence: 'The rim’s material is not described.',
    next: 'Choose it under “Hub and rim”, or hear the wheel in the state for which the limit holds.',
  },
  tyreUnknown: {
    sentence: 'It is not said whether the tyre is on.',
    next: 'Say it under “State now” and with the limit, then hear the wheel again.',
  },
  pressureDiffers: {
    sentence: 'Two tyre pressures cannot be turned into each other.',
    next: 'Hear the wheel at the pressure for which the limit holds, or with the tyre off.',
  },
  temperatureMissing: {
    sentence: 'The limit holds for a temperature, and the wheel’s is not known.',
    next: 'Enter the temperature under “State now”, then hear the wheel again.',
  },
};
