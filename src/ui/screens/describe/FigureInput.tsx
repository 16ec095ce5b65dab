import { Field } from '../../parts/Field.tsx';
import { type FigureField, unitOf } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** A figure of the description: typed text, unit, what is wrong with it, what it does to the answer. */
export function FigureInput({
  form,
  field,
  effect,
}: {
  readonly form: DescribeForm;
  readonly field: FigureField;
  readonly effect?: string | undefined;
}) {
  const elsewhere = form.savedElsewhere(field);
  const kept = elsewhere === undefined ? undefined : `Saved in another tab meanwhile: ${elsewhere}.`;
  const said = [kept, field.effect, effect].filter((part) => part !== undefined).join(' ');
  return (
    <Field
      label={field.label}
      kind={field.quantity === 'whole' ? 'whole' : 'number'}
      unit={unitOf(field.quantity, form.units)}
      value={form.raw(field)}
      wrong={form.wrong(field)}
      onInput={(raw) => form.type(field, raw)}
      {...(said === '' ? {} : { effect: said })}
      {...(field.optional === true ? { placeholder: 'not given' } : {})}
    />
  );
}
