import type { Rim } from '../../../spokes/wheel.ts';
import { SelectField } from '../../parts/SelectField.tsx';
import { setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import { effectSentence } from './fieldEffects.ts';
import { centreDistance, headOffset, holeDiameter, pitchCircle, RIM_DIAMETER, RIM_OFFSET } from './fields.ts';
import type { FigureField } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** Dimensions of hub and rim, each with what a millimetre of it does to the tension of this wheel. */
export function HubRimPart({ form, told: tells }: { readonly form: DescribeForm; readonly told: boolean }) {
  const layout = form.wheel.layout;
  if (layout.kind !== 'laced') return null;
  const straight = layout.hub.kind === 'straightPull';
  const told = (field: FigureField, side: 'left' | 'right') => (
    <FigureInput
      form={form}
      field={field}
      effect={tells ? effectSentence(form.wheel, field, form.units, side) : undefined}
    />
  );
  const set = (path: string, value: string) =>
    form.change((wheel) => setAt(wheel, path, value === '' ? undefined : value));
  return (
    <>
      {told(RIM_DIAMETER, 'right')}
      <div class="pair">
        {told(pitchCircle('left'), 'left')}
        {told(pitchCircle('right'), 'right')}
        {told(centreDistance('left'), 'left')}
        {told(centreDistance('right'), 'right')}
        {told(straight ? headOffset('left') : holeDiameter('left'), 'left')}
        {told(straight ? headOffset('right') : holeDiameter('right'), 'right')}
      </div>
      {told(RIM_OFFSET, 'right')}
      <div class="pair">
        <SelectField
          label="Rim material"
          value={layout.rim.material}
          options={(['aluminium', 'composite', 'steel', 'unknown'] satisfies Rim['material'][]).map((value) => ({
            value,
            label: value,
          }))}
          onChange={(value) => set('layout.rim.material', value)}
          effect="Only for corrections of tyre and temperature."
        />
        <SelectField
          label="Rim stiffness"
          value={layout.rim.stiffnessClass ?? ''}
          options={[
            { value: '', label: 'not known' },
            { value: 'light', label: 'light' },
            { value: 'medium', label: 'medium' },
            { value: 'stiff', label: 'stiff' },
          ]}
          onChange={(value) => set('layout.rim.stiffnessClass', value)}
          effect="Needed for the corrections of tyre and temperature; without it they are not computed."
        />
      </div>
    </>
  );
}
