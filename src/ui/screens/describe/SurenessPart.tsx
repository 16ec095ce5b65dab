import type { MemberUncertainty } from '../../../physics/member.ts';
import type { Side } from '../../../spokes/wheel.ts';
import { inMillimetres } from '../../../units.ts';
import { FigureInput } from './FigureInput.tsx';
import { sureness } from './fields.ts';
import { type FigureField, showFigure, unitOf } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

const USED: Readonly<Record<keyof ReturnType<typeof sureness>, (u: MemberUncertainty) => number | undefined>> = {
  lengthMm: ({ length }) => inMillimetres(length),
  crossingMm: ({ crossing }) => inMillimetres(crossing),
  sectionsMm: ({ sections }) => (sections === undefined ? undefined : inMillimetres(sections)),
  massPercent: ({ massRelative }) => 100 * massRelative,
  stiffnessPercent: ({ stiffnessRelative }) => 100 * stiffnessRelative,
};

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
          <legend>{side}</legend>
          {Object.entries(sureness(side)).map(([name, field]) => (
            <FigureInput
              key={name}
              form={form}
              field={field}
              effect={usedSentence(form, side, name as keyof typeof USED, field)}
            />
          ))}
        </fieldset>
      ))}
    </>
  );
}

function usedSentence(form: DescribeForm, side: Side, name: keyof typeof USED, field: FigureField): string | undefined {
  const uncertainty = form.check.examples[side]?.described.uncertainty;
  const used = uncertainty && USED[name](uncertainty);
  if (used === undefined) return undefined;
  return `Used now: ${showFigure(Number(used.toPrecision(2)), field.quantity, form.units)} ${unitOf(field.quantity, form.units)}.`;
}
