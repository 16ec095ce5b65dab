import { relativeTensions } from '../spokes/relativeTensions.ts';
import { allSettlings } from '../spokes/walkRound.ts';
import type { EvennessLayout, Round } from '../spokes/wheel.ts';
import { type DeskReason, refusalText } from './refusalText.ts';
import type { SpokeVerdict } from './spokeVerdict.ts';

/**
 * Of a wheel of which only the sides are known: each spoke against its side's mean, no tension.
 * @param whyNot of spokes without a tone, what their sounds were
 */
export function relativeSpokes(
  { sides }: EvennessLayout,
  round: Round,
  asked: readonly number[],
  whyNot: ReadonlyMap<number, DeskReason>,
): readonly SpokeVerdict[] {
  const settlings = allSettlings({ round, sides });
  const settled = new Map(
    settlings.flatMap((one, i) => (one.state === 'settled' ? [[i + 1, one.agreeing] as const] : [])),
  );
  const relative = new Map(relativeTensions(settled, sides).map((one) => [one.spoke, one]));
  return sides.flatMap((side, i): SpokeVerdict[] => {
    const spoke = i + 1;
    if (!asked.includes(spoke)) return [];
    const one = relative.get(spoke);
    if (one)
      return [{ spoke, side, ok: true, deviationPercent: one.deviationPercent, uDeviationPercent: one.uPercent }];
    const rang = round.plucks.some((pluck) => pluck.spoke === spoke);
    const reason = rang ? 'notSettled' : (whyNot.get(spoke) ?? 'notHeard');
    return [{ spoke, side, ok: false, reason, advice: refusalText(reason) }];
  });
}
