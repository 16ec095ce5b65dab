import { useMemo } from 'preact/hooks';
import type { NextSteps as Steps } from '../../../spokes/nextSteps.ts';
import { type ShiftWarning, shiftCheck } from '../../../spokes/shiftCheck.ts';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { routeHref } from '../../parts/route.ts';
import { goTo } from '../../parts/useRoute.ts';
import { useActions } from '../../store/useStore.ts';
import { narrowText, UNCERTAIN_INPUT_TEXT } from '../../text/uncertainInputText.ts';
import type { Judgement } from './judgementOf.ts';
import { turnAdvice } from './turnAdvice.ts';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly judgement: Judgement;
}

const BECAUSE: Readonly<Record<Steps['hearAgain'][number]['because'], string>> = {
  refused: 'no figure came of it',
  unsettled: 'its plucks did not agree',
  poorFit: 'its tones do not fit the description',
  uncertain: 'its ± is much wider than the others’',
};

/** What to do now: signs of a slipped place, spokes to turn, spokes to hear again, what would narrow the interval most, and a new round. */
export function NextSteps({ wheel, round, judgement }: Props) {
  const told = useMemo(
    () => shiftCheck({ round, sides: judgement.laid.map((place) => place.side) }),
    [round.plucks, round.skipped, judgement.laid],
  );
  const warnings = told.filter(({ kind }) => kind !== 'allAlike');
  const turns = turnAdvice(judgement);
  return (
    <section aria-label="What to do next">
      <h2>What to do next</h2>
      {warnings.length > 0 && (
        <div class="note caution">
          <ul>
            {warnings.map((warning) => (
              <li key={JSON.stringify(warning)}>{warningText(warning)}</li>
            ))}
          </ul>
        </div>
      )}
      {told
        .filter((one) => !warnings.includes(one))
        .map((one) => (
          <p key={one.kind}>{warningText(one)}</p>
        ))}
      {turns.length > 0 && (
        <ul>
          {turns.map(({ what, todo }) => (
            <li key={what}>
              <strong>{what}</strong> {todo}
            </li>
          ))}
        </ul>
      )}
      <HearAgain wheel={wheel} round={round} judgement={judgement} />
      <NoLimit wheel={wheel} judgement={judgement} />
      <Narrow wheel={wheel} judgement={judgement} />
      <NextRound wheel={wheel} round={round} />
    </section>
  );
}

function HearAgain({ wheel, round, judgement }: Props) {
  const actions = useActions();
  // For evenness a tone is enough: no tension was ever asked for.
  const again = judgement.judged.next.hearAgain.filter(
    ({ because }) => judgement.kind === 'tension' || because === 'unsettled',
  );
  const [first] = again;
  if (first === undefined) return null;
  return (
    <>
      <p>
        Hear again:{' '}
        {again
          .slice(0, 8)
          .map((one) => `${one.spoke} (${BECAUSE[one.because]})`)
          .join('; ')}
        {again.length > 8 && ` and ${again.length - 8} more`}.
      </p>
      <button
        type="button"
        class="button no-print"
        onClick={() => {
          actions.hearAgain(round.id, first.spoke);
          goTo({ screen: 'listen', wheelId: wheel.id });
        }}
      >
        Hear spoke {first.spoke} again
      </button>
    </>
  );
}

function NoLimit({ wheel, judgement }: Omit<Props, 'round'>) {
  const given = (['left', 'right'] as const).some((side) => {
    const limits = wheel.sides?.[side].limits;
    return limits?.maximumN !== undefined || limits?.minimumN !== undefined;
  });
  if (given || judgement.kind === 'evenness') return null;
  return (
    <p>
      No maker’s limit is entered, so no spoke is judged by one. It stands on the rim or in the maker’s sheet;{' '}
      <a href={routeHref({ screen: 'describe', wheelId: wheel.id })}>enter it under “Limits and target”</a>.
    </p>
  );
}

function Narrow({ wheel, judgement }: Omit<Props, 'round'>) {
  const open = judgement.judged.next.narrow.filter((step) => step.remedy !== 'none');
  const alike = (step: Steps['narrow'][number]) => narrowText(step.input, wheel);
  // Several causes may have one remedy: it is said once, with the weightiest.
  const narrow = open.filter((step, i) => open.findIndex((one) => alike(one) === alike(step)) === i).slice(0, 3);
  if (judgement.kind === 'evenness' || narrow.length === 0) return null;
  const undecided = [...judgement.spokes.values()].filter((spoke) => spoke.mark === 'notCleared').length;
  return (
    <>
      <p>
        {undecided > 0
          ? `${undecided} cannot be cleared because their ± reaches past the limit or the target. What would narrow it most:`
          : 'What would narrow the ± most:'}
      </p>
      <ol>
        {narrow.map((step) => (
          <li key={step.input}>
            {alike(step)}{' '}
            <span class="soft">
              ({UNCERTAIN_INPUT_TEXT[step.input].name}: {Math.round(100 * step.share)} %)
            </span>
          </li>
        ))}
      </ol>
      <p class="soft">In brackets: the cause, and its share of the ± (of its square).</p>
    </>
  );
}

/** On with an open round, or a new one after an ended one. */
function NextRound({ wheel, round }: Omit<Props, 'judgement'>) {
  const actions = useActions();
  const ended = round.finishedAt !== undefined;
  return (
    <>
      <p>
        {ended
          ? 'Turned a nipple? Hear the whole wheel again: before and after then stand in one picture.'
          : 'This round is still open.'}
      </p>
      <button
        type="button"
        class="button no-print"
        onClick={() => {
          if (ended) actions.leaveRound();
          goTo({ screen: 'listen', wheelId: wheel.id });
        }}
      >
        {ended ? 'Hear the wheel again' : 'Go on with it'}
      </button>
    </>
  );
}

function warningText(warning: ShiftWarning): string {
  switch (warning.kind) {
    case 'closingDiffers':
      return `Spoke ${warning.spoke} sounded different when it was heard once more at the end: a place was slipped, or the wheel changed.`;
    case 'closingMissing':
      return `Spoke ${warning.spoke} was not heard once more at the end, so a slipped place would not show.`;
    case 'extraBefore':
      return `At spoke ${warning.spoke} a pluck sounded like the spoke before: one too many there, or this one was passed over.`;
    case 'soundsLikeNext':
      return `At spoke ${warning.spoke} a pluck sounded like the next spoke: one may be missing here.`;
    case 'twoTones':
      return `Spoke ${warning.spoke} gave two different sounds, and no neighbour explains it.`;
    case 'sidesTradePlaces':
      return `From spoke ${warning.from} ${warning.to === undefined ? 'on' : `to ${warning.to}`} the sides have each other’s tones: a place was slipped there.`;
    case 'lastSoundsLikeFirst':
      return `Spoke ${warning.spoke}, the last, sounds like spoke ${warning.first}, the first. Two even spokes may; but if one was passed over, the first was heard in the last one’s place. Count from the valve hole and hear spoke ${warning.spoke} again.`;
    case 'allAlike':
      return 'All spokes sound alike, so a slipped place would not show; it would hardly change a reading either.';
    case 'alikeByOnePluck':
      return `Settled by one pluck each, ${warning.spokes.length === 1 ? 'spoke' : 'spokes'} ${warning.spokes.join(', ')} ${warning.spokes.length === 1 ? 'sounds' : 'sound'} like the one before: a pluck too many there would look the same.`;
  }
}
