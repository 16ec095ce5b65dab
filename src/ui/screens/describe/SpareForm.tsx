import { useEffect } from 'preact/hooks';
import { describeSpare, type SpareSpoke, sideOfKind } from '../../../spokes/describeSpare.ts';
import { pluckDirection } from '../../../spokes/pluckDirection.ts';
import type { Pluck, Wheel } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import { SelectField } from '../../parts/SelectField.tsx';
import { type Draft, useDraft } from '../../parts/useDraft.ts';
import { typedPluck } from '../../store/editRound.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import { readTones } from '../listen/readTones.ts';
import { COVERAGE, spareCalibrationOf } from './calibrationOf.ts';
import { describeReasonText } from './describeReasonText.ts';
import { type FigureField, readFigure, type Units } from './figureField.ts';
import { LoadFields, readLoad } from './LoadFields.tsx';
import { SpareTones } from './SpareTones.tsx';

const LENGTH: FigureField = {
  path: 'length',
  label: 'Length between the supports',
  quantity: 'length',
  low: 50,
  high: 450,
};
const U_LENGTH: FigureField = { path: 'uLength', label: 'Good to ±', quantity: 'length', low: 0.1, high: 20 };
const USUAL_PERCENT = '1';
const USUAL_METHOD = 'load cell';
/** A ruler's ±, two standard uncertainties of 0.5 mm; an inch scale shows 0.04. `common practice` */
const USUAL_U: Readonly<Record<Units['length'], string>> = { mm: '1', in: '0.04' };

/** A loose spoke of this wheel's kind under a known load: it shares mass and stiffness with the wheel, not its ends. */
export function SpareForm({ wheel }: { readonly wheel: Wheel }) {
  const actions = useActions();
  const tension = useStore((state) => state.preferences.tensionUnit);
  const length = useStore((state) => state.preferences.lengthUnit);
  const heard = useStore((state) => (state.spare?.wheelId === wheel.id ? state.spare : undefined));
  const draft = useDraft(`spare ${wheel.id}`);
  useEffect(() => actions.forgetSpare, [actions]);
  const units: Units = { length, tension };
  const kinds = [...new Set([wheel.sides?.left.kindId, wheel.sides?.right.kindId])].flatMap((id) =>
    id === undefined ? [] : [id],
  );
  const spare = readSpare(draft, units, kinds);
  const described = spare && describeSpare(wheel, sideOfKind(wheel, spare.kindId), spare);
  const load = readLoad(draft, units, USUAL_PERCENT, USUAL_METHOD);
  const typed = draft.get('by') === 'typed' ? readTones(draft.get('tones')) : undefined;
  const wrong = (raw: string, field: FigureField) => {
    const read = readFigure(raw, field, units);
    return raw.trim() === '' || read.ok ? undefined : read.wrong;
  };
  const plucks = (): readonly Pluck[] => {
    if (typed === undefined) return heard?.settled === true ? heard.agreeing : [];
    const direction = described?.ok ? pluckDirection(described.described.member).direction : 'inPlane';
    return [{ ...typedPluck(actions.newId(), actions.now(), { crossing: 'none', direction }, typed), spoke: 1 }];
  };
  const rings = typed !== undefined || (draft.get('by') !== 'typed' && heard?.settled === true);
  const ready = spare !== undefined && described?.ok === true && load !== undefined && rings;
  const add = () => {
    if (!ready) return;
    actions.addCalibration(wheel.id, spareCalibrationOf(actions.newId(), spare, load, plucks()));
    actions.forgetSpare();
    draft.empty('load', 'tones');
  };
  const rawLength = draft.get('length');
  const rawU = draft.get('uLength', USUAL_U[length]);
  return (
    <>
      <p class="note caution">
        A load cell in line with the spoke is best. Weights that hang on a spoke fall when a knot or the spoke gives:
        hang them a hand’s width above something soft, keep feet and head away, wear eye protection, and stay below the
        maker’s limit.
      </p>
      <p>Two loads far apart, such as 200 and 1000 N, tell the wire from what holds it; each is an entry of its own.</p>
      {kinds.length > 1 && (
        <SelectField
          label="Kind"
          value={spare?.kindId ?? kinds[0] ?? ''}
          options={kinds.map((id) => ({ value: id, label: wheel.kinds[id]?.name ?? id }))}
          onChange={(id) => draft.set('kind', id)}
        />
      )}
      <Choices
        legend="Its thread end is held"
        value={draft.get('threadEnd', 'grip')}
        options={[
          { value: 'grip', label: 'in a clamp' },
          { value: 'nipple', label: 'in its nipple' },
        ]}
        onChange={(end) => draft.set('threadEnd', end)}
      >
        Put the clamp where the nipple would begin.
      </Choices>
      <div class="pair">
        <Field
          label={LENGTH.label}
          value={rawLength}
          unit={length}
          wrong={
            wrong(rawLength, LENGTH) ??
            (described?.ok === false ? describeReasonText[described.reason](described.detail) : undefined)
          }
          onInput={(raw) => draft.set('length', raw)}
          effect="Under load: from the head’s seat to the clamp, or to the nipple’s seat."
        />
        <Field
          label={U_LENGTH.label}
          value={rawU}
          unit={length}
          wrong={wrong(rawU, U_LENGTH)}
          onInput={(raw) => draft.set('uLength', raw)}
        />
      </div>
      <LoadFields draft={draft} usualPercent={USUAL_PERCENT} usualMethod={USUAL_METHOD} />
      <SpareTones
        wheelId={wheel.id}
        draft={draft}
        spare={described?.ok === true ? spare : undefined}
        direction={described?.ok === true ? pluckDirection(described.described.member).direction : 'inPlane'}
      />
      <button type="button" class="button" disabled={!ready} onClick={add}>
        Add this spoke
      </button>
    </>
  );
}

/** The loose spoke as far as it can be read. */
function readSpare(draft: Draft, units: Units, kinds: readonly string[]): SpareSpoke | undefined {
  const length = readFigure(draft.get('length'), LENGTH, units);
  const u = readFigure(draft.get('uLength', USUAL_U[units.length]), U_LENGTH, units);
  const kindId = kinds.find((id) => id === draft.get('kind')) ?? kinds[0];
  if (!length.ok || !u.ok || length.value === undefined || u.value === undefined || kindId === undefined)
    return undefined;
  return {
    kindId,
    supportLengthMm: length.value,
    uSupportLengthMm: u.value / COVERAGE,
    threadEnd: draft.get('threadEnd') === 'nipple' ? 'nipple' : 'grip',
  };
}
