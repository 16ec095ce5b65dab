import { expandLayout } from '../../../spokes/expandLayout.ts';
import { gaugeUncertainty } from '../../../spokes/secondReadings.ts';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { Field } from '../../parts/Field.tsx';
import { SelectField } from '../../parts/SelectField.tsx';
import { useDraft } from '../../parts/useDraft.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { localMinute } from '../../text/localTime.ts';
import { calibrationOf } from './calibrationOf.ts';
import { type FigureField, readFigure, type Units } from './figureField.ts';
import { LoadFields, readLoad } from './LoadFields.tsx';

const USUAL_METHOD = 'gauge';

/** A spoke of this wheel whose tension was known when a round heard it. */
export function InWheelForm({ wheel }: { readonly wheel: Wheel }) {
  const actions = useActions();
  const tension = useStore((state) => state.preferences.tensionUnit);
  const draft = useDraft(`known ${wheel.id}`);
  const units: Units = { length: 'mm', tension };
  const rounds = wheel.rounds.filter((one) => one.plucks.length > 0);
  const round = rounds.find((one) => one.id === draft.get('round')) ?? rounds.at(-1);
  if (round === undefined)
    return <p class="note">Hear the wheel first: a known tension belongs to the round in which its spoke was heard.</p>;
  const laid = expandLayout(wheel.layout);
  const field: FigureField = {
    path: 'spoke',
    label: 'Spoke',
    quantity: 'whole',
    low: 1,
    high: laid.ok ? laid.spokes.length : 1,
  };
  const raw = draft.get('spoke');
  const read = readFigure(raw, field, units);
  const spoke = read.ok ? read.value : undefined;
  const heard = spoke === undefined || round.plucks.some((pluck) => pluck.spoke === spoke && pluck.putAside !== true);
  const wrong = raw.trim() === '' ? undefined : !read.ok ? read.wrong : heard ? undefined : notHeard(round, raw);
  const usual = usualOf(wheel);
  const load = readLoad(draft, units, usual.percent, usual.method);
  const add = () => {
    if (spoke === undefined || load === undefined) return;
    actions.addCalibration(wheel.id, calibrationOf(actions.newId(), round, spoke, load));
    draft.empty('spoke', 'load');
  };
  return (
    <>
      {rounds.length > 1 && (
        <SelectField
          label="Known during the round of"
          value={round.id}
          options={rounds.toReversed().map((one) => ({ value: one.id, label: localMinute(one.startedAt) }))}
          onChange={(id) => draft.set('round', id)}
        />
      )}
      <Field
        label={field.label}
        kind="whole"
        value={raw}
        wrong={wrong}
        onInput={(text) => draft.set('spoke', text)}
        effect="Counted from the valve hole, as on the wheel."
      />
      <LoadFields draft={draft} usualPercent={usual.percent} usualMethod={usual.method} usualWhy={usual.why} />
      <button type="button" class="button" disabled={spoke === undefined || !heard || load === undefined} onClick={add}>
        Add this tension
      </button>
    </>
  );
}

/** The wheel's only gauge is as sure here as where it stands beside the ear. */
function usualOf({ gauges = [] }: Wheel) {
  const gauge = gauges.length === 1 ? gauges[0] : undefined;
  const percent = `${Number((200 * gaugeUncertainty(gauge)).toPrecision(6))}`;
  const why =
    gauge?.uPercent === undefined
      ? `${percent} % is what a gauge is taken for whose uncertainty nobody states, here as in a comparison.`
      : `${percent} % is what is stated of ${gauge.name}.`;
  return { percent, method: gauge?.name ?? USUAL_METHOD, why };
}

const notHeard = (round: Round, spoke: string): string =>
  `Spoke ${spoke.trim()} was not heard in the round of ${localMinute(round.startedAt)}; choose one that was, or hear it first.`;
