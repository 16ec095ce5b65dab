import type { SideComparison } from '../../../spokes/compareMethods.ts';
import type { TensionUnit } from '../../../units.ts';
import { inUnit, signedInUnit } from './inUnit.ts';

/** What the figures of one side say, in plain words and with the figures that they rest on. */
export function conclusionText(one: SideComparison, unit: TensionUnit): string {
  const { agreement } = one;
  const { bias, lower, upper, count, proportional } = agreement;
  const side = one.side === 'left' ? 'Left' : 'Right';
  const direction = bias.value >= 0 ? 'above' : 'below';
  const by = `${inUnit(Math.abs(bias.value), unit)} ${unit}`;
  const within = `In 19 of 20 spokes ear less gauge lies between ${signedInUnit(lower.value, unit)} and ${signedInUnit(upper.value, unit)} ${unit}.`;
  const scale = `By their stated uncertainties both scales together may be off by ±\u00a0${inUnit(one.scaleExpandedN, unit)} ${unit}: the difference lies ${
    Math.abs(bias.value) > one.scaleExpandedN
      ? 'beyond that, so one of them is off by more than it says'
      : 'within that'
  }.`;
  const start = `${side} side, ${count} spokes: `;
  switch (one.conclusion) {
    case 'agree':
      return `${start}no difference between the methods can be shown (mean ${signedInUnit(bias.value, unit)} ${unit}, its interval ${signedInUnit(bias.low, unit)} to ${signedInUnit(bias.high, unit)} holds zero), and they scatter no more than both say. ${within}`;
    case 'biased':
      return `${start}the ear reads ${by} ${direction} the gauge on average, more than chance allows; apart from that they scatter no more than both say. ${within} ${scale} Which of the two is right, these figures do not tell.`;
    case 'proportional':
      return `${start}ear less gauge ${proportional.slope.value > 0 ? 'rises' : 'falls'} as tension rises, so that one mean difference does not describe it; see the regression. ${within}`;
    case 'scattered':
      return `${start}the differences scatter more than both methods’ uncertainties explain: one of them is worse than it says, or readings were mixed up. ${within}`;
  }
}

/** Why the correlation stands only beside the rest. */
export const CORRELATION_TEXT =
  'The correlation only tells that tight spokes read high by both methods. It is high whenever the spokes of a side differ much, and would stay as it is if one method read double: it is no agreement.';
