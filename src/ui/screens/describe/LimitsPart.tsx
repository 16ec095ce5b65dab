import type { Limits, Side, Wheel, WheelState } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { Field } from '../../parts/Field.tsx';
import { setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import { maximum, minimum, PRESSURE, TARGET } from './fields.ts';
import type { DescribeForm } from './useDescribeForm.ts';

const NO_LIMITS: Limits = { unit: 'N', source: '', state: { tyre: 'off' } };

/** The maker's limits with their source and the state they hold for; the evenness target. */
export function LimitsPart({ form }: { readonly form: DescribeForm }) {
  const sides = form.wheel.sides;
  if (sides === undefined) return <FigureInput form={form} field={TARGET} />;
  // A figure typed first makes limits of which nothing else is known yet.
  const limits = { ...NO_LIMITS, ...(sides.left.limits ?? sides.right.limits) };
  const both = (make: (limits: Limits) => Limits) =>
    form.change((wheel) =>
      (['left', 'right'] as const).reduce(
        (next, side) => setLimits(next, side, make({ ...NO_LIMITS, ...next.sides?.[side].limits })),
        wheel,
      ),
    );
  return (
    <>
      <p>
        Enter only what the maker says; without a limit nothing is judged against one. As common practice makers state
        maxima between 1080 and 1275 N (110 to 130 kgf).
      </p>
      <div class="pair">
        {(['left', 'right'] as const).map((side) => (
          <FigureInput key={side} form={form} field={maximum(side)} />
        ))}
        {(['left', 'right'] as const).map((side) => (
          <FigureInput key={side} form={form} field={minimum(side)} />
        ))}
      </div>
      <Field
        label="Where the figures come from"
        kind="text"
        value={limits.source}
        onInput={(source) => both((one) => ({ ...one, source }))}
        effect="Printed on the report: the rim’s label, a data sheet, a letter."
      />
      <Choices<WheelState['tyre']>
        legend="The limit holds with the tyre"
        value={limits.state.tyre}
        options={[
          { value: 'off', label: 'off' },
          { value: 'on', label: 'on' },
          { value: 'unknown', label: 'not said' },
        ]}
        onChange={(tyre) => both((one) => ({ ...one, state: { ...one.state, tyre } }))}
      >
        Off unless the maker says otherwise. A wheel heard in another state cannot be cleared before it is corrected.
      </Choices>
      {limits.state.tyre === 'on' &&
        (['left', 'right'] as const).map((side) => (
          <FigureInput
            key={side}
            form={form}
            field={{ ...PRESSURE(`sides.${side}.limits.state.pressureBar`), label: `At a pressure of, ${side}` }}
          />
        ))}
      <FigureInput form={form} field={TARGET} />
    </>
  );
}

const setLimits = (wheel: Wheel, side: Side, limits: Limits): Wheel => setAt(wheel, `sides.${side}.limits`, limits);
