import { useEffect, useState } from 'preact/hooks';
import type { LiveRound } from '../../store/appState.ts';
import { changedHow } from '../../text/settledSentence.ts';
import type { SpokeView } from '../judge/judgementOf.ts';

/** One sentence for each settled spoke, for those who do not look: its figure and verdict, and the next place. */
export function SettledStatus({
  live,
  spokes,
}: {
  readonly live: LiveRound;
  readonly spokes: ReadonlyMap<number, SpokeView>;
}) {
  const [sentence, setSentence] = useState('');
  const last = live.last;
  const settled = last?.taken === true && last.settledNow ? last : undefined;
  const judged = settled === undefined ? undefined : spokes.get(settled.spoke);
  const known = judged?.figure !== undefined || judged?.whyNot !== undefined;
  useEffect(() => {
    if (settled === undefined || judged === undefined || !known) return;
    const next =
      live.phase === 'finished'
        ? 'The round is complete.'
        : `Next: spoke ${live.spoke}, ${live.side}${changedHow(live)}.`;
    const figure = judged.figure;
    const told =
      figure === undefined
        ? `Spoke ${judged.number}: no figure. ${judged.whyNot?.sentence ?? ''}`
        : `Spoke ${judged.number}: ${figure.value} ${figure.unit}, ± ${figure.plusMinus}, ${judged.word}.`;
    setSentence(`${told} ${next}`);
  }, [settled?.serial, known]);
  return (
    <p role="status" class="unseen">
      {sentence}
    </p>
  );
}
