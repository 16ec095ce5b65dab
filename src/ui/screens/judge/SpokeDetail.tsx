import { useEffect, useRef } from 'preact/hooks';
import type { Reading } from '../../../contract.ts';
import { describeMember } from '../../../spokes/describeMember.ts';
import { stateCorrection } from '../../../spokes/stateCorrection.ts';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { newtons, tensionIn } from '../../../units.ts';
import { MarkSign } from '../../parts/MarkSign.tsx';
import { goTo } from '../../parts/useRoute.ts';
import { useActions } from '../../store/useStore.ts';
import { CORRECTION_REASON_TEXT } from '../../text/correctionReasonText.ts';
import { FAMILY_TEXT } from '../../text/familyText.ts';
import { HEARD_FLAG_TEXT } from '../../text/heardFlagText.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../text/uncertainInputText.ts';
import type { Judgement, SpokeView } from './judgementOf.ts';
import { signed, tensionText } from './showTension.ts';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly judgement: Judgement;
  readonly spoke: SpokeView;
  readonly onClose: () => void;
}

/** Why the reading was not carried over to the state for which the limit holds. */
function OtherState({ wheel, round, spoke }: Pick<Props, 'wheel' | 'round' | 'spoke'>) {
  const { reading } = spoke.judged;
  const described = describeMember(wheel, spoke.number);
  const limits = wheel.sides?.[spoke.side].limits;
  if (reading?.ok !== true || !described.ok || limits === undefined) return null;
  const correction = stateCorrection(wheel, described, reading.tensionN, round.state, limits.state);
  if (correction.ok) return null;
  const { sentence, next } = CORRECTION_REASON_TEXT[correction.reason];
  return (
    <p>
      {sentence} {next}
    </p>
  );
}

/** The tones that the figure rests on, each with its distance from the model; then what was heard beside them. */
function Tones({ reading }: { readonly reading: Reading }) {
  const used = reading.assignment.filter((tone) => tone.mode > 0);
  const other = reading.assignment.filter((tone) => tone.mode === 0);
  return (
    <>
      <ul class="figures">
        {used.map((tone) => (
          <li key={tone.toneIndex}>
            {tone.frequencyHz.toFixed(1)} Hz: mode {tone.mode} of {FAMILY_TEXT[tone.family]}
            {tone.residualPercent !== undefined && `, ${signed(tone.residualPercent, 2)} %`}
          </li>
        ))}
      </ul>
      {other.length > 0 && (
        <p class="figures soft">Heard, not used: {other.map((tone) => tone.frequencyHz.toFixed(1)).join(', ')} Hz.</p>
      )}
    </>
  );
}

/** One spoke with all that its figure rests on: limit, plucks, tones, where the ± comes from. */
export function SpokeDetail({ wheel, round, judgement, spoke, onClose }: Props) {
  const actions = useActions();
  const reading = spoke.judged.reading;
  const limit = spoke.judged.limit;
  const plucks = round.plucks.filter((pluck) => pluck.spoke === spoke.number && pluck.closing !== true);
  const heading = useRef<HTMLHeadingElement>(null);
  // Asked for on a wheel or in a table that may lie far from here.
  useEffect(() => {
    const top = heading.current?.getBoundingClientRect().top ?? 0;
    heading.current?.focus({ preventScroll: true });
    if (top < 0 || top > innerHeight / 2) heading.current?.scrollIntoView({ block: 'start' });
  }, [spoke.number]);
  return (
    <section
      class="note"
      aria-label={`Spoke ${spoke.number}`}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose();
      }}
    >
      <h3 ref={heading} tabIndex={-1} class="comes-into-sight">
        Spoke {spoke.number}, {spoke.side}
      </h3>
      {spoke.figure !== undefined && (
        <p class="headline">
          {spoke.figure.value} ± {spoke.figure.plusMinus} {spoke.figure.unit}
        </p>
      )}
      <p class="sign-word">
        <MarkSign mark={spoke.mark} /> <span>{spoke.word}</span>
      </p>
      {spoke.whyNot !== undefined && (
        <p>
          {spoke.whyNot.sentence} {spoke.whyNot.next}
        </p>
      )}
      {limit?.limit !== undefined && (
        <p>
          Judged by the {limit.limit.kind} of {tensionText(limit.limit.value, judgement.unit)}
          {limit.because === 'state' && ', which holds for another state of the wheel'}
          {limit.because === 'interval' && '; the interval reaches across it'}.
        </p>
      )}
      {limit?.because === 'state' && <OtherState wheel={wheel} round={round} spoke={spoke} />}
      {limit?.because === 'limitsContradict' && (
        <p>
          The minimum lies above the maximum, so nothing is judged by either. Correct one of them under “Limits and
          target”.
        </p>
      )}
      {reading?.ok === true && judgement.kind === 'tension' && (
        <>
          <h4>Where the ± comes from</h4>
          <p class="soft">Standard uncertainties; the ± is twice the root of the sum of their squares.</p>
          <ul>
            {reading.contributions.slice(0, 6).map((part) => (
              <li key={`${part.input} ${part.scope}`}>
                {UNCERTAIN_INPUT_TEXT[part.input].name}: {tensionIn(newtons(part.uN), judgement.unit).toFixed(1)}{' '}
                {judgement.unit}, {part.scope === 'own' ? 'this spoke’s own' : 'shared by its side'}
              </li>
            ))}
          </ul>
          <h4>Tones that the figure rests on</h4>
          <p class="soft">Mode 1 is the lowest of its part. The percentage: how far heard and computed lie apart.</p>
          <Tones reading={reading} />
        </>
      )}
      <h4>Plucks</h4>
      <ul>
        {plucks.map((pluck, i) => (
          <li key={pluck.id}>
            {i + 1}. lowest {pluck.tones[0]?.frequencyHz.toFixed(1) ?? '–'} Hz
            {pluck.putAside === true && ' (put aside)'} {pluck.flags.map((flag) => HEARD_FLAG_TEXT[flag]).join(' ')}{' '}
            <button
              type="button"
              class="button no-print"
              onClick={() => (pluck.putAside === true ? actions.takeBack(pluck.id) : actions.putAside(pluck.id))}
            >
              {pluck.putAside === true ? 'Use it again' : 'Put aside'}
            </button>
          </li>
        ))}
        {plucks.length === 0 && <li>none</li>}
      </ul>
      <div class="row no-print">
        <button
          type="button"
          class="button"
          onClick={() => {
            actions.hearAgain(round.id, spoke.number);
            goTo({ screen: 'listen', wheelId: wheel.id });
          }}
        >
          Hear it again
        </button>
        <button type="button" class="button" onClick={onClose}>
          Close
        </button>
      </div>
    </section>
  );
}
