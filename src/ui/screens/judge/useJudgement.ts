import { useMemo } from 'preact/hooks';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { useStore } from '../../store/useStore.ts';
import { type Judgement, judgementOf } from './judgementOf.ts';

/** The judgement of a round, made anew when its plucks, its tensions, the wheel or the unit change. */
export function useJudgement(wheel: Wheel, round: Round): Judgement {
  const measured = useStore((state) => state.measured[round.id]);
  const unit = useStore((state) => state.preferences.tensionUnit);
  return useMemo(() => judgementOf(wheel, round, measured, unit), [wheel, round, measured, unit]);
}
