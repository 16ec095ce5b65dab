import { checkWheel } from '../../../spokes/checkWheel.ts';
import { type DescribedSpoke, describeLaidSpoke } from '../../../spokes/describeMember.ts';
import type { DescribeRefusal } from '../../../spokes/describeRefusal.ts';
import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { LaidSpoke } from '../../../spokes/laidSpoke.ts';
import { layoutRefusals } from '../../../spokes/layoutRefusal.ts';
import type { Side, Wheel } from '../../../spokes/wheel.ts';
import { describeReasonText } from './describeReasonText.ts';

export interface DescriptionCheck {
  /** Absent: it cannot be laid out. */
  readonly spokes?: readonly LaidSpoke[];
  /** The first spoke of each side as the member that rings. */
  readonly examples: Partial<Record<Side, DescribedSpoke>>;
  /** What is wrong, by path into the wheel. Empty: it may be heard. */
  readonly wrong: Readonly<Record<string, string>>;
}

/** Asks the trade's own rules whether this wheel can be; what they refuse is said at the field they name. */
export function checkDescription(wheel: Wheel): DescriptionCheck {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) return { examples: {}, wrong: said(layoutRefusals(laid), 'layout.') };
  if (wheel.layout.kind === 'evenness') return { spokes: laid.spokes, examples: {}, wrong: {} };
  const wrong = said(checkWheel(wheel));
  const examples: Partial<Record<Side, DescribedSpoke>> = {};
  for (const side of ['left', 'right'] as const) {
    const spoke = laid.spokes.find((one) => one.side === side);
    if (spoke === undefined) continue;
    const described = describeLaidSpoke(wheel, spoke);
    if (described.ok) examples[side] = described;
    const limits = wheel.sides?.[side].limits;
    if (limits?.minimumN !== undefined && limits.maximumN !== undefined && limits.minimumN > limits.maximumN) {
      wrong[`sides.${side}.limits.minimumN`] = 'The minimum lies above the maximum: correct one of the two.';
    }
  }
  return { spokes: laid.spokes, examples, wrong };
}

/** A sentence for each, by the path of its field. */
const said = (refusals: readonly Pick<DescribeRefusal, 'field' | 'reason' | 'detail'>[], within = '') =>
  Object.fromEntries(
    refusals.map(({ field, reason, detail }) => [`${within}${field}`, describeReasonText[reason](detail)]),
  );

/** What is said about one field: of the field itself, or of a place inside it. */
export function wrongAt(wrong: Readonly<Record<string, string>>, path: string): string | undefined {
  const dotted = path.startsWith('/') ? path.slice(1).replaceAll('/', '.') : path;
  return wrong[dotted] ?? wrong[dotted.replace(/\.value$/, '')];
}
