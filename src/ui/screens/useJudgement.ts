import { useMemo } from 'preact/hooks';
import { expandLayout } from '../../spokes/expandLayout.ts';
import type { Round, Wheel } from '../../spokes/wheel.ts';
import { tensionIn } from '../../units.ts';
import { useStore } from '../store/useStore.ts';
import { MEASURE_REASON_TEXT } from '../text/measureReasonText.ts';
import type { JudgedSpoke } from './judged.ts';

export interface Judgement {
  readonly kind: 'tension' | 'evenness';
  readonly spokes: ReadonlyMap<number, JudgedSpoke>;
}

/** Every spoke of a round as the screens tell it. */
export function useJudgement(wheel: Wheel, round: Round): Judgement {
  const measured = useStore((state) => state.measured[round.id]);
  const unit = useStore((state) => state.preferences.tensionUnit);
  return useMemo(() => {
    const laid = expandLayout(wheel.layout);
    const spokes = new Map<number, JudgedSpoke>();
    for (const spoke of laid.ok ? laid.spokes : []) {
      const reading = measured?.readings[spoke.number];
      const heard = round.plucks.some((pluck) => pluck.spoke === spoke.number && pluck.putAside !== true);
      spokes.set(spoke.number, {
        number: spoke.number,
        side: spoke.side,
        mark: round.skipped.includes(spoke.number) ? 'skipped' : heard ? 'settled' : 'waiting',
        word: heard ? 'heard' : 'not heard',
        ...(reading?.ok === true
          ? {
              figure: {
                value: tensionIn(reading.tensionN, unit).toFixed(0),
                plusMinus: (2 * Math.hypot(reading.uOwnN, reading.uCommonN)).toFixed(0),
                unit,
              },
            }
          : reading !== undefined
            ? { whyNot: MEASURE_REASON_TEXT[reading.reason] }
            : {}),
      });
    }
    return { kind: wheel.layout.kind === 'evenness' ? 'evenness' : 'tension', spokes };
  }, [wheel, round, measured, unit]);
}
