import { expandLayout } from '../../../spokes/expandLayout.ts';
import type { Calibration, Wheel } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { useDraft } from '../../parts/useDraft.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { MEASURE_REASON_TEXT } from '../../text/measureReasonText.ts';
import { tensionText } from '../judge/showTension.ts';
import { Contradictions, Taught } from '../judge/Taught.tsx';
import { useMeasured } from '../judge/useMeasured.ts';
import { statedPercent } from './calibrationOf.ts';
import { InWheelForm } from './InWheelForm.tsx';
import { SpareForm } from './SpareForm.tsx';

/** Tensions known by other means, and what they teach. They are weighed in with their own ±, never obeyed; no factor is ever applied. */
export function CalibrationPart({ wheel }: { readonly wheel: Wheel }) {
  const draft = useDraft(`calibrate ${wheel.id}`);
  const round = wheel.rounds.findLast((one) => one.plucks.length > 0);
  const given = wheel.calibrations.length;
  useMeasured(wheel, given > 0 ? round : undefined);
  const measured = useStore((state) => (round === undefined ? undefined : state.measured[round.id]));
  const which = draft.get('which', 'inWheel');
  if (wheel.sides === undefined) return null;
  return (
    <details class="part">
      <summary>
        Known tensions <span class="gist">{given === 0 ? 'none' : `${given} given`}</span>
      </summary>
      <p>
        A spoke whose tension you know by other means narrows every ±. It is weighed in with its own uncertainty, not
        obeyed.
      </p>
      {given > 0 && <Contradictions wheel={wheel} learned={measured?.learned} />}
      {given > 0 && (
        <ul>
          {wheel.calibrations.map((one) => (
            <Known key={one.id} wheel={wheel} calibration={one} />
          ))}
        </ul>
      )}
      {given > 0 && <Taught wheel={wheel} learned={measured?.learned} />}
      <Choices
        legend="The known spoke is"
        value={which}
        options={[
          { value: 'inWheel', label: 'in the wheel' },
          { value: 'spare', label: 'a spare one' },
        ]}
        onChange={(next) => draft.set('which', next)}
      >
        {which === 'spare'
          ? 'Of the same kind, out of the wheel, under a load: it teaches mass and stiffness. How it is held is its own.'
          : 'It teaches everything: mass, stiffness, and how firmly hub and rim hold. That helps most on composite and on short thick spokes.'}
      </Choices>
      {which === 'spare' ? <SpareForm wheel={wheel} /> : <InWheelForm wheel={wheel} />}
    </details>
  );
}

function Known({ wheel, calibration }: { readonly wheel: Wheel; readonly calibration: Calibration }) {
  const actions = useActions();
  const tension = useStore((state) => state.preferences.tensionUnit);
  const round = wheel.rounds.findLast((one) => one.plucks.length > 0);
  const reading = useStore((state) =>
    round === undefined ? undefined : state.measured[round.id]?.calibrations?.[calibration.id],
  );
  const idle = teachesNothing(wheel, calibration);
  const refused = reading?.ok === false ? MEASURE_REASON_TEXT[reading.reason] : undefined;
  return (
    <li>
      {calibration.kind === 'spare' ? 'Spare spoke' : `Spoke ${calibration.spoke}`}:{' '}
      {tensionText(calibration.loadN, tension)} ± {statedPercent(calibration).toFixed(1)} %, {calibration.method}.
      {idle !== undefined && (
        <>
          {' '}
          <strong>{idle}</strong>
        </>
      )}
      {refused !== undefined && (
        <>
          {' '}
          <strong>Its tones are not used. {refused.sentence}</strong>{' '}
          {calibration.kind === 'spare' ? 'Check its length, its kind and its load, then hear it again.' : refused.next}
        </>
      )}{' '}
      <button type="button" class="button" onClick={() => actions.removeCalibration(wheel.id, calibration.id)}>
        Remove
      </button>
    </li>
  );
}

/** A description that was changed since may have left a known tension without its spoke. */
function teachesNothing(wheel: Wheel, { kind, kindId, spoke }: Calibration): string | undefined {
  if (kind === 'spare') {
    const used = [wheel.sides?.left.kindId, wheel.sides?.right.kindId].includes(kindId);
    return used ? undefined : 'No side has its kind now, so it teaches nothing: choose that kind again, or remove it.';
  }
  const laid = expandLayout(wheel.layout);
  return laid.ok && spoke !== undefined && spoke > laid.spokes.length
    ? 'The wheel has no such spoke now, so it teaches nothing: correct the number of spokes, or remove it.'
    : undefined;
}
