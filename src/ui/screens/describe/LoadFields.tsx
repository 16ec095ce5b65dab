import type { TensionUnit } from '../../../units.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import type { Draft } from '../../parts/useDraft.ts';
import { useActions, useStore } from '../../store/useStore.ts';
import type { StatedLoad } from './calibrationOf.ts';
import { type FigureField, readFigure, type Units } from './figureField.ts';

const LOAD: FigureField = { path: 'load', label: 'Its tension', quantity: 'tension', low: 50, high: 3000 };
const U_LOAD: FigureField = { path: 'uLoad', label: 'Good to ±', quantity: 'percent', low: 0.1, high: 30 };
const UNITS: readonly { readonly value: TensionUnit; readonly label: string }[] = [
  { value: 'N', label: 'N' },
  { value: 'kgf', label: 'kgf' },
  { value: 'lbf', label: 'lbf' },
];

interface Props {
  readonly draft: Draft;
  readonly usualPercent: string;
  readonly usualMethod: string;
  /** Where the usual percentage comes from. */
  readonly usualWhy?: string;
}

/** The load that is read so far; undefined while a figure is missing or wrong. */
export function readLoad(
  draft: Draft,
  units: Units,
  usualPercent: string,
  usualMethod: string,
): StatedLoad | undefined {
  const load = readFigure(draft.get('load'), LOAD, units);
  const percent = readFigure(draft.get('percent', usualPercent), U_LOAD, units);
  if (!load.ok || !percent.ok || load.value === undefined || percent.value === undefined) return undefined;
  const method = draft.get('method').trim();
  return { loadN: load.value, percent: percent.value, method: method === '' ? usualMethod : method };
}

/** A known tension: figure, unit, how good it is, and by what it is known. */
export function LoadFields({ draft, usualPercent, usualMethod, usualWhy }: Props) {
  const actions = useActions();
  const tension = useStore((state) => state.preferences.tensionUnit);
  const units: Units = { length: 'mm', tension };
  const wrong = (raw: string, field: FigureField) => {
    const read = readFigure(raw, field, units);
    return raw.trim() === '' || read.ok ? undefined : read.wrong;
  };
  const [load, percent] = [draft.get('load'), draft.get('percent', usualPercent)];
  return (
    <>
      <div class="pair">
        <Field
          label={LOAD.label}
          value={load}
          unit={tension}
          wrong={wrong(load, LOAD)}
          onInput={(raw) => draft.set('load', raw)}
        />
        <Field
          label={U_LOAD.label}
          value={percent}
          unit="%"
          wrong={wrong(percent, U_LOAD)}
          onInput={(raw) => draft.set('percent', raw)}
          effect={['It holds 19 times in 20: two standard uncertainties.', usualWhy].filter(Boolean).join(' ')}
        />
      </div>
      <Choices
        legend="Unit"
        value={tension}
        options={UNITS}
        onChange={(unit) => actions.setPreference('tensionUnit', unit)}
      >
        A mass of 1 kg at rest pulls with 1 kgf. Changed here, the unit changes on all screens.
      </Choices>
      <Field
        label="Known by"
        kind="text"
        value={draft.get('method')}
        placeholder={usualMethod}
        onInput={(raw) => draft.set('method', raw)}
      />
    </>
  );
}
