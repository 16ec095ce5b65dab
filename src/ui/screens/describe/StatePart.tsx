import type { WheelState } from '../../../spokes/wheel.ts';
import { Choices } from '../../parts/Choices.tsx';
import { setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import { PRESSURE, TEMPERATURE } from './fields.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** How the wheel stands now; each round keeps its own copy. */
export function StatePart({ form }: { readonly form: DescribeForm }) {
  return (
    <>
      <Choices<WheelState['tyre']>
        legend="Tyre now"
        value={form.wheel.state.tyre}
        options={[
          { value: 'off', label: 'off, or flat' },
          { value: 'on', label: 'on, inflated' },
          { value: 'unknown', label: 'not known' },
        ]}
        onChange={(tyre) => form.change((wheel) => setAt(wheel, 'state.tyre', tyre))}
      >
        An inflated tyre presses the rim together and lowers every spoke’s tension.
      </Choices>
      {form.wheel.state.tyre === 'on' && <FigureInput form={form} field={PRESSURE('state.pressureBar')} />}
      <FigureInput form={form} field={TEMPERATURE} />
    </>
  );
}
