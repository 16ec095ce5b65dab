import { useEffect } from 'preact/hooks';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import type { MeasuredRound } from '../../store/appState.ts';
import { useActions, useStore } from '../../store/useStore.ts';

/** A round's tensions; asks for them where they are not there yet. */
export function useMeasuredRound(wheel: Wheel, round: Round | undefined): MeasuredRound | undefined {
  const actions = useActions();
  const measured = useStore((state) => (round === undefined ? undefined : state.measured[round.id]));
  const missing = round !== undefined && measured === undefined;
  useEffect(() => {
    if (missing && round) actions.measureRound(wheel.id, round.id);
  }, [missing, wheel.id, round, actions]);
  return measured;
}
