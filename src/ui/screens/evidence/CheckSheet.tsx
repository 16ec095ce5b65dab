import '../../styles/evidence.css';
import { Field } from '../../parts/Field.tsx';
import { SelectField } from '../../parts/SelectField.tsx';
import { useStore } from '../../store/useStore.ts';
import { SheetFindings } from './SheetFindings.tsx';
import { STATEMENT_TEXT } from './sheetText.ts';
import { TextIn } from './TextIn.tsx';
import { tableProblemText } from './tableProblemText.ts';
import { CLAIMS, type SheetForm, TICKED, useSheetForm } from './useSheetForm.ts';

const UNIT_OPTIONS = [
  { value: '', label: 'as table or claims say' },
  { value: 'none', label: 'not stated' },
  { value: 'N', label: 'N' },
  { value: 'kgf', label: 'kgf' },
  { value: 'lbf', label: 'lbf' },
];
const CLAIM_LABEL = {
  'mean left': 'Mean, left',
  'mean right': 'Mean, right',
  'mean wheel': 'Mean, all spokes',
  'spread left': 'Spread, left',
  'spread right': 'Spread, right',
  'spread wheel': 'Spread, all spokes',
} as const;

/** Somebody else's table of tensions: typed in as it stands, recomputed and questioned. */
export default function CheckSheet() {
  const form = useSheetForm();
  return (
    <main class="judge evidence">
      <p>
        Put in a table of tensions as its author wrote it. It is computed again, and questioned: what does not add up,
        what would explain it, what to ask. Nothing leaves this device.
      </p>
      <SheetFields form={form} />
      <SheetFindings form={form} />
      <button type="button" class="button" onClick={form.clear}>
        Clear the form
      </button>
    </main>
  );
}

const toneCount = ({ left, right }: NonNullable<SheetForm['table']['tonesHz']>): string => {
  const of = (rows: readonly (readonly number[])[]) => rows.reduce((sum, one) => sum + one.length, 0);
  return `${of(left)} left, ${of(right)} right`;
};

function SheetFields({ form }: { readonly form: SheetForm }) {
  const wheels = useStore((state) => state.wheels.list);
  const described = wheels.filter((wheel) => wheel.layout.kind !== 'evenness');
  const { raw, set, table, tones, wrong } = form;
  const problems = (of: typeof table) => (
    <ul class="wrong-list" role="alert">
      {of.problems.slice(0, 10).map(({ line, reason, detail }) => (
        <li key={`${line} ${reason} ${detail}`}>{tableProblemText(line, reason, detail)}</li>
      ))}
    </ul>
  );
  return (
    <>
      <TextIn
        label="Tensions"
        rows={10}
        value={raw('table')}
        onText={(text) => set('table', text)}
        effect="Columns headed with the sides, a line a spoke that names its side, blocks under the side’s name, or a line a side: left and right, L and R, non-drive and drive. A dash for a spoke without. Units stand in the head, tones in columns of their own: tone 1 Hz, tone 2 Hz …"
      />
      {raw('table').trim() !== '' && !table.ok && problems(table)}
      {table.ok && (
        <p class="soft" role="status">
          {table.left.length} left, {table.right.length} right.
          {table.tonesHz === undefined ? '' : ` Tones: ${toneCount(table.tonesHz)}.`}
          {table.unread.length === 0 ? '' : ` Not read: ${table.unread.join(', ')}.`}
        </p>
      )}
      <SelectField
        label="Unit on the sheet"
        value={raw('unit')}
        options={UNIT_OPTIONS}
        onChange={(value) => set('unit', value)}
      />
      <SelectField
        label="The wheel it was measured on"
        value={raw('wheel')}
        options={[
          { value: '', label: 'not described here' },
          ...described.map((wheel) => ({ value: wheel.id, label: wheel.name })),
        ]}
        onChange={(value) => set('wheel', value)}
        effect="With its hub described, the ratio of the sides can be tested, and stated tones turned into tension."
      />
      <h2>What the sheet claims</h2>
      <p class="soft">
        As written, decimals and unit included; a percentage with its sign; several divided by semicolons.
      </p>
      <div class="pair">
        {CLAIMS.map(({ key }) => (
          <Field
            key={key}
            label={CLAIM_LABEL[key as keyof typeof CLAIM_LABEL]}
            kind="text"
            value={raw(key)}
            wrong={wrong[key]}
            onInput={(value) => set(key, value)}
          />
        ))}
      </div>
      <h2>Limits on the sheet</h2>
      <div class="pair">
        <Field
          label="Maximum"
          value={raw('maximum')}
          wrong={wrong.maximum}
          onInput={(value) => set('maximum', value)}
        />
        <Field
          label="Minimum"
          value={raw('minimum')}
          wrong={wrong.minimum}
          onInput={(value) => set('minimum', value)}
        />
      </div>
      <SelectField
        label="Unit of the limits"
        value={raw('limitUnit')}
        options={[{ value: '', label: 'the table’s' }, ...UNIT_OPTIONS.slice(2)]}
        onChange={(value) => set('limitUnit', value)}
      />
      <fieldset class="field">
        <legend>What else the author states</legend>
        <div class="choices">
          {TICKED.map((one) => (
            <label key={one}>
              <input
                type="checkbox"
                checked={raw(one) === 'yes'}
                onChange={(event) => set(one, event.currentTarget.checked ? 'yes' : '')}
              />
              {STATEMENT_TEXT[one].name}
            </label>
          ))}
        </div>
      </fieldset>
      <details class="part">
        <summary>
          Tones <span class="gist">if the sheet gives any, in hertz</span>
        </summary>
        <TextIn
          label="Tones, Hz"
          value={raw('tones')}
          onText={(text) => set('tones', text)}
          effect="In the same order as the tensions, one tone a spoke or several, divided by blanks; a dash for a spoke without. Only if they do not stand in the table above."
        />
        {tones !== undefined && !tones.ok && problems(tones)}
        {tones?.ok && tones.tonesHz !== undefined && <p class="soft">{toneCount(tones.tonesHz)}.</p>}
        {wrong.tones !== undefined && <p class="wrong">{wrong.tones}</p>}
      </details>
    </>
  );
}
