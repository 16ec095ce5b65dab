import type { ListedSpoke, Side } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { SelectField } from '../../parts/SelectField.tsx';
import { setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import { listedSpoke } from './fields.ts';
import type { DescribeForm } from './useDescribeForm.ts';

interface Props {
  readonly form: DescribeForm;
  readonly spoke: ListedSpoke;
  readonly index: number;
}

/** All that a list says of one spoke. */
export function ListedSpokeFields({ form, spoke, index }: Props) {
  const set = (field: keyof ListedSpoke, value: string | undefined) =>
    form.change((wheel) => setAt(wheel, `layout.spokes.${index}.${field}`, value));
  const kinds = Object.values(form.wheel.kinds);
  const fields = listedSpoke(index);
  return (
    <>
      <Choices<Side>
        legend="Side"
        value={spoke.side}
        options={[
          { value: 'left', label: 'left' },
          { value: 'right', label: 'right' },
        ]}
        onChange={(side) => set('side', side)}
      />
      <div class="pair">
        <FigureInput form={form} field={fields.length} />
        <FigureInput form={form} field={fields.crossing} />
        <FigureInput form={form} field={fields.partner} />
        <FigureInput form={form} field={fields.angle} />
        <FigureInput form={form} field={fields.bracing} />
      </div>
      {kinds.length > 1 && (
        <SelectField
          label="Spoke kind"
          value={spoke.kindId ?? ''}
          options={[
            { value: '', label: 'as its side' },
            ...kinds.map((kind) => ({ value: kind.id, label: kind.name })),
          ]}
          onChange={(kindId) => set('kindId', kindId === '' ? undefined : kindId)}
        />
      )}
    </>
  );
}
