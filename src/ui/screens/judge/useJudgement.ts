import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { useStore } from '../../store/useStore.ts';
import { type Judgement, judgementOf } from './judgementOf.ts';

/**
 * The judgement of a round, made anew when its plucks, its tensions, the description or the unit change: not when the wheel is merely saved, nor when the
 * worker begins anew.
 */
export function useJudgement(wheel: Wheel, round: Round): Judgement {
  const { make, status, about } = useInputs(wheel, round);
  const judged = useMemo(make, about);
  return useMemo(() => ({ ...judged, status }), [judged, status]);
}

/** The same for a screen on which a hand waits: a tap is answered first, and the judgement follows with the next frame. */
export function useJudgementLater(wheel: Wheel, round: Round): Judgement {
  const { make, status, about } = useInputs(wheel, round);
  const [judged, setJudged] = useState(make);
  const first = useRef(true);
  useEffect(() => {
    if (!first.current) setJudged(make());
    first.current = false;
  }, about);
  return useMemo(() => ({ ...judged, status }), [judged, status]);
}

function useInputs(wheel: Wheel, round: Round) {
  const readings = useStore((state) => state.measured[round.id]?.readings);
  const learned = useStore((state) => state.measured[round.id]?.learned);
  const status = useStore((state) => state.measured[round.id]?.status ?? 'working');
  const unit = useStore((state) => state.preferences.tensionUnit);
  const { layout, sides, kinds, targetPercent } = wheel;
  const measured =
    readings === undefined || learned === undefined ? undefined : ({ status: 'ready', readings, learned } as const);
  return {
    make: () => judgementOf(wheel, round, measured, unit),
    status,
    about: [layout, sides, kinds, targetPercent, round.plucks, round.skipped, round.state, readings, learned, unit],
  };
}
