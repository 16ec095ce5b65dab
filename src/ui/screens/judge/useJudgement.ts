import { useMemo } from 'preact/hooks';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { useStore } from '../../store/useStore.ts';
import { type Judgement, judgementOf } from './judgementOf.ts';

/**
 * The judgement of a round, made anew when its plucks, its tensions, the description or the unit change: not when the wheel is merely saved, nor when the
 * worker begins anew, for a hand waits on this screen.
 */
export function useJudgement(wheel: Wheel, round: Round): Judgement {
  const readings = useStore((state) => state.measured[round.id]?.readings);
  const learned = useStore((state) => state.measured[round.id]?.learned);
  const status = useStore((state) => state.measured[round.id]?.status ?? 'working');
  const unit = useStore((state) => state.preferences.tensionUnit);
  const { layout, sides, kinds, targetPercent } = wheel;
  const judged = useMemo(
    () =>
      judgementOf(
        wheel,
        round,
        readings === undefined || learned === undefined ? undefined : { status: 'ready', readings, learned },
        unit,
      ),
    [layout, sides, kinds, targetPercent, round.plucks, round.skipped, round.state, readings, learned, unit],
  );
  return useMemo(() => ({ ...judged, status }), [judged, status]);
}
