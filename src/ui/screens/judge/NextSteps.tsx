import type { NextSteps as Steps } from '../../../spokes/nextSteps.ts';
import type { ShiftWarning } from '../../../spokes/shiftCheck.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { goTo } from '../../parts/useRoute.ts';
import { useActions } from '../../store/useStore.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../text/uncertainInputText.ts';
import type { Judgement } from './judgementOf.ts';

const BECAUSE: Readonly<Record<Steps['hearAgain'][number]['because'], string>> = {
  refused: 'no figure came of it',
  unsettled: 'its plucks did not agree',
  poorFit: 'its tones do not fit the description',
  uncertain: 'its ± is much wider than the others’',
};

/** What to do now: signs of a slipped place, spokes to hear again, what would narrow the interval most. */
export function NextSteps({ wheel, judgement }: { readonly wheel: Wheel; readonly judgement: Judgement }) {
  const actions = useActions();
  const { warnings, next } = judgement.judged;
  const narrow = judgement.kind === 'evenness' ? [] : next.narrow.filter((step) => step.remedy !== 'none').slice(0, 3);
  const first = next.hearAgain[0];
  const undecided = [...judgement.spokes.values()].filter((spoke) => spoke.mark === 'notCleared').length;
  if (warnings.length === 0 && first === undefined && narrow.length === 0) return null;
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
      {first !== undefined && (
        <>
          <p>
            Hear again:{' '}
            {next.hearAgain
              .slice(0, 8)
              .map((one) => `${one.spoke} (${BECAUSE[one.because]})`)
              .join('; ')}
            {next.hearAgain.length > 8 && ` and ${next.hearAgain.length - 8} more`}.
          </p>
          <button
            type="button"
            class="button no-print"
            onClick={() => {
              goTo({ screen: 'listen', wheelId: wheel.id });
              actions.jumpTo(first.spoke);
            }}
          >
            Hear spoke {first.spoke} again
          </button>
        </>
      )}
      {narrow.length > 0 && (
        <>
          <p>
            {undecided > 0
              ? `${undecided} cannot be cleared because their ± reaches past the limit or the target. What would narrow it most:`
              : 'What would narrow the ± most:'}
          </p>
          <ol>
            {narrow.map((step) => (
              <li key={step.input}>
                {UNCERTAIN_INPUT_TEXT[step.input].narrow}{' '}
                <span class="soft">
                  ({UNCERTAIN_INPUT_TEXT[step.input].name}: {Math.round(100 * step.share)} % of the variance)
                </span>
              </li>
            ))}
          </ol>
        </>
      )}
    </section>
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
    case 'alikeByOnePluck':
      return `Settled by one pluck each, ${warning.spokes.length === 1 ? 'spoke' : 'spokes'} ${warning.spokes.join(', ')} ${warning.spokes.length === 1 ? 'sounds' : 'sound'} like the one before: a pluck too many there would look the same.`;
  }
}
