import { useEffect, useRef, useState } from 'preact/hooks';
import type { LiveRound } from '../../store/appState.ts';
import { useActions } from '../../store/useStore.ts';
import { settledSentence, spokenSentence } from '../../text/settledSentence.ts';
import type { SpokeView } from '../judge/judgementOf.ts';

/** One sentence for each settled spoke, for those who do not look: its figure and verdict, and the next place. Said aloud where that is wanted. */
export function SettledStatus({
  live,
  spokes,
  measured,
}: {
  readonly live: LiveRound;
  readonly spokes: ReadonlyMap<number, SpokeView>;
  /** Whether the figures are those of the newest plucks. */
  readonly measured: boolean;
}) {
  const actions = useActions();
  const [sentence, setSentence] = useState('');
  const last = live.last;
  const settled = last?.taken === true && last.settledNow ? last : undefined;
  const judged = settled === undefined ? undefined : spokes.get(settled.spoke);
  const known = judged?.figure !== undefined || judged?.whyNot !== undefined;
  // A spoke heard again has a figure already: the old one.
  const asked = useRef({ serial: settled?.serial, again: false });
  if (asked.current.serial !== settled?.serial) asked.current = { serial: settled?.serial, again: known };
  const answered = known && (measured || !asked.current.again);
  useEffect(() => {
    if (settled === undefined || judged === undefined || !answered) return;
    setSentence(settledSentence(live, judged));
    actions.speak(spokenSentence(live, judged));
  }, [settled?.serial, answered]);
  return (
    <p role="status" class="unseen">
      {sentence}
    </p>
  );
}
