import { useMemo } from 'preact/hooks';
import { type ReportView, reportView } from '../../../spokes/reportView.ts';
import { rereadRound } from '../../../spokes/rereadRound.ts';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { useStore } from '../../store/useStore.ts';
import type { Judgement } from '../judge/judgementOf.ts';

/** Everything that the report tells, made of what the worker measured. */
export function useReport(wheel: Wheel, round: Round, judgement: Judgement): ReportView {
  const measured = useStore((state) => state.measured[round.id]);
  const earlier = wheel.rounds.filter((one) => one.startedAt < round.startedAt && one.plucks.length > 0).at(-1);
  const measuredBefore = useStore((state) => (earlier === undefined ? undefined : state.measured[earlier.id]));
  return useMemo(() => {
    const readings = rereadRound(wheel, round, measured?.readings ?? {}, measured?.learned ?? {});
    const before =
      earlier === undefined || measuredBefore === undefined
        ? undefined
        : rereadRound(wheel, earlier, measuredBefore.readings, measuredBefore.learned);
    return reportView(wheel, round, readings, judgement.judged, before);
  }, [wheel, round, measured, earlier, measuredBefore, judgement]);
}
