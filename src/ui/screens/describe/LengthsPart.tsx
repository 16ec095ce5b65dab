import type { Side } from '../../../spokes/wheel.ts';
import { inMillimetres } from '../../../units.ts';
import { FigureInput } from './FigureInput.tsx';
import { effectSentence } from './fieldEffects.ts';
import { measuredCrossing, measuredLength } from './fields.ts';
import { showFigure } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** Computed lengths beside the ruler's. What was measured is used; where the two disagree, both stay in sight. */
export function LengthsPart({ form, told }: { readonly form: DescribeForm; readonly told: boolean }) {
  return (
    <>
      <p>Computed from hub and rim. A ruler is better: what you measure here is used instead.</p>
      {(['left', 'right'] as const).map((side) => (
        <SideLengths key={side} form={form} side={side} told={told} />
      ))}
    </>
  );
}

function SideLengths({
  form,
  side,
  told,
}: {
  readonly form: DescribeForm;
  readonly side: Side;
  readonly told: boolean;
}) {
  const example = form.check.examples[side];
  if (example === undefined) return null;
  const { lengths, spoke } = example;
  const figure = (value: number) =>
    `${showFigure(inMillimetres(value as never), 'length', form.units)} ${form.units.length}`;
  const computedFree =
    lengths.computedCrossingFromHub === undefined
      ? undefined
      : lengths.computedSupport - lengths.computedCrossingFromHub;
  const off = inMillimetres((lengths.support - lengths.computedSupport) as never);
  return (
    <section aria-label={`Lengths, ${side}`}>
      <h2>{side === 'left' ? 'Left' : 'Right'}</h2>
      <p class="figures">
        Computed: {figure(lengths.computedSupport)} from hub support to nipple seat
        {computedFree === undefined
          ? '; no other spoke touches it.'
          : `, ${figure(computedFree)} of it from the crossing to the rim.`}
      </p>
      {Math.abs(off) > DISAGREE_MM && (
        <p class="note caution">
          Ruler and computation differ by {figure(Math.abs(lengths.support - lengths.computedSupport))}. Hub or rim
          dimensions may be wrong, or the ruler was put to another edge.
        </p>
      )}
      <div class="pair">
        <FigureInput
          form={form}
          field={measuredLength(side)}
          effect={
            told && form.wheel.sides?.[side].measured?.supportLengthMm !== undefined
              ? effectSentence(form.wheel, measuredLength(side), form.units, side)
              : undefined
          }
        />
        {spoke.touching && (
          <FigureInput
            form={form}
            field={measuredCrossing(side)}
            effect={
              !told || form.wheel.sides?.[side].measured?.crossingToRimMm === undefined
                ? 'The length that matters most.'
                : effectSentence(form.wheel, measuredCrossing(side), form.units, side)
            }
          />
        )}
      </div>
    </section>
  );
}

/** Twice what ruler and computation leave open together. `common practice` */
const DISAGREE_MM = 3;
