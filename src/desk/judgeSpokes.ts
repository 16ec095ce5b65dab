import type { MeasureReason } from '../contract.ts';
import type { EvennessWord } from '../spokes/evennessVerdict.ts';
import { judgeWheel } from '../spokes/judgeWheel.ts';
import type { LimitWord } from '../spokes/limitVerdict.ts';
import type { RoundReadings } from '../spokes/readRound.ts';
import type { Round, Side, Wheel } from '../spokes/wheel.ts';
import { refusalText } from './refusalText.ts';
import { relativeSpokes } from './relativeSpokes.ts';

export interface SpokeVerdict {
  /** From 1, the first after the valve hole. */
  readonly spoke: number;
  readonly side: Side;
  readonly ok: boolean;
  /** `fewRang`: most of the sounds credited to it were no plucks; `notSettled`: its plucks do not agree, or are too few. */
  readonly reason?: MeasureReason | 'notHeard' | 'fewRang' | 'notSettled';
  readonly detail?: string;
  /** What is wrong and what to do, where there is no tension. */
  readonly advice?: string;
  readonly tensionN?: number;
  readonly uOwnN?: number;
  readonly uCommonN?: number;
  /** From the side's mean. */
  readonly deviationPercent?: number;
  /** Standard uncertainty of it; only where no tension is known. */
  readonly uDeviationPercent?: number;
  /** Against the maker's limits. */
  readonly verdict?: LimitWord;
  /** Against the side. */
  readonly evenness?: EvennessWord;
  readonly outlier?: boolean;
}

/** The verdicts of a round as plain rows, for the spokes that were asked for. */
export function judgeSpokes(
  wheel: Wheel,
  round: Round,
  asked: readonly number[],
  { readings, described }: RoundReadings,
  fewRang: ReadonlySet<number> = new Set(),
): readonly SpokeVerdict[] {
  if (wheel.layout.kind === 'evenness') return relativeSpokes(wheel.layout, round, asked);
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
      if (!reading) return no('notHeard');
      if (fewRang.has(number)) return no('fewRang');
      if (!reading.ok) return no(reading.reason, reading.detail);
      const { tensionN, uOwnN, uCommonN } = reading;
      return {
        ...place,
        ok: true,
        tensionN,
        uOwnN,
        uCommonN,
        ...(evenness && { deviationPercent: evenness.deviationPercent, evenness: evenness.word }),
        ...(limit && { verdict: limit.word }),
        outlier: outlierZ !== undefined,
      };
    });
}
