import { uncertaintyFigures } from '../../../spokes/uncertaintyFigures.ts';
import type { Side } from '../../../spokes/wheel.ts';
import { FigureInput } from './FigureInput.tsx';
import { SURENESS, type Sureness, sureness } from './fields.ts';
import { type FigureField, showFigure, unitOf } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** How sure the description is, side by side: what a person with a scale or a drawing knows better than the defaults. */
export function SurenessPart({ form }: { readonly form: DescribeForm }) {
  return (
    <>
      <p class="soft">
        Standard uncertainties: about two of three like cases lie within. They go into the ± of every tension. A length
        by ruler has its own.
      </p>
      {(['left', 'right'] as const).map((side) => (
        <fieldset key={side} class="note">
          <legend>{side === 'left' ? 'Left' : 'Right'}</legend>
          {SURENESS.map((name) => {
            const field = sureness(side, name);
            return <FigureInput key={name} form={form} field={field} effect={usedSentence(form, side, name, field)} />;
          })}
        </fieldset>
      ))}
    </>
  );
}

function usedSentence(form: DescribeForm, side: Side, name: Sureness, field: FigureField): string | undefined {
  const uncertainty = form.check.examples[side]?.described.uncertainty;
  const used = uncertainty && uncertaintyFigures(uncertainty)[name];
  if (used === undefined) return undefined;
  return `Used now: ${showFigure(Number(used.toPrecision(2)), field.quantity, form.units)} ${unitOf(field.quantity, form.units)}.`;
}
