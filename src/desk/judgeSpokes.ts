import { judgeWheel } from '../spokes/judgeWheel.ts';
import { COVERAGE } from '../spokes/limitVerdict.ts';
import type { RoundReadings } from '../spokes/readRound.ts';
import type { Round, Wheel } from '../spokes/wheel.ts';
import { type DeskReason, refusalText } from './refusalText.ts';
import { relativeSpokes } from './relativeSpokes.ts';
import type { SpokeVerdict } from './spokeVerdict.ts';

/**
 * The verdicts of a round as plain rows, for the spokes that were asked for.
 * @param whyNot of spokes without a reading, what their sounds were; `fewRang` counts before a reading
 */
export function judgeSpokes(
  wheel: Wheel,
  round: Round,
  asked: readonly number[],
  { readings, described }: RoundReadings,
  whyNot: ReadonlyMap<number, DeskReason> = new Map(),
): readonly SpokeVerdict[] {
  if (wheel.layout.kind === 'evenness') return relativeSpokes(wheel.layout, round, asked, whyNot);
  const judged = judgeWheel(wheel, round, readings, {}, described);
  return judged.spokes
    .filter(({ number }) => asked.includes(number))
    .map(({ number, side, reading, limit, evenness, outlierZ }): SpokeVerdict => {
      const place = { spoke: number, side };
      const no = (reason: NonNullable<SpokeVerdict['reason']>, detail?: string): SpokeVerdict => ({
        ...place,
        ok: false,
        reason,
        ...(detail && { detail }),
        advice: refusalText(reason, detail),
      });
      const why = whyNot.get(number);
      if (!reading || why === 'fewRang') return no(why ?? 'notHeard');
      if (!reading.ok) return no(reading.reason, reading.detail);
      const { tensionN, uOwnN, uCommonN } = reading;
      return {
        ...place,
        ok: true,
        tensionN,
        uOwnN,
        uCommonN,
        expandedN: COVERAGE * Math.hypot(uOwnN, uCommonN),
        ...(evenness && { deviationPercent: evenness.deviationPercent, evenness: evenness.word }),
        ...(limit && { verdict: limit.word }),
        outlier: outlierZ !== undefined,
        ...(reading.doubted && { doubted: reading.doubted }),
      };
    });
}
