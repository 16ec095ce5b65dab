import { useEffect } from 'preact/hooks';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { useActions, useStore } from '../../store/useStore.ts';

/** Asks for the tensions of a round that is looked at, unless they are there or on their way. */
export function useMeasured(wheel: Wheel, round: Round | undefined): void {
  const actions = useActions();
  const roundId = round?.id;
  const known = useStore((state) => roundId === undefined || state.measured[roundId] !== undefined);
  useEffect(() => {
    if (!known && roundId !== undefined) actions.measureRound(wheel.id, roundId);
  }, [known, wheel.id, roundId, actions]);
}
