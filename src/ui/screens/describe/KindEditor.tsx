import { MATERIALS, type MaterialName, materialNamed } from '../../../spokes/materials.ts';
import type { KindSection, Shape, SpokeKind } from '../../../spokes/wheel.ts';
import { SelectField } from '../../parts/SelectField.tsx';
import { pointerKey, setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import type { FigureField } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

const FORMS: Readonly<Record<Shape['form'], { readonly label: string; readonly shape: Shape }>> = {
  round: { label: 'round', shape: { form: 'round', diameterMm: 2 } },
  oval: { label: 'oval', shape: { form: 'oval', widthMm: 2.2, thicknessMm: 1.2 } },
  flat: { label: 'flat', shape: { form: 'flat', widthMm: 2.2, thicknessMm: 0.9 } },
  tube: { label: 'tube', shape: { form: 'tube', outerMm: 3.6, innerMm: 2.6 } },
};

const FIGURES: Readonly<Record<string, string>> = {
  diameterMm: 'Diameter',
  widthMm: 'Width, along the rim',
  thicknessMm: 'Thickness, along the axle',
  outerMm: 'Outside diameter',
  innerMm: 'Inside diameter',
};

/** The sections of one spoke kind, hub end first: length, shape and material of each layer. */
export function KindEditor({ form, kindId }: { readonly form: DescribeForm; readonly kindId: string }) {
  const kind = form.wheel.kinds[kindId];
  if (kind === undefined) return null;
  const at = `/kinds/${pointerKey(kindId)}`;
  const change = (make: (kind: SpokeKind) => SpokeKind) => form.change((wheel) => setAt(wheel, at, make(kind)));
  const sections = (make: (sections: readonly KindSection[]) => readonly KindSection[]) =>
    change((one) => ({ ...one, sections: make(one.sections) }));
  return (
    <details class="part">
      <summary>
        Sections <span class="gist">{kind.sections.map((section) => section.name).join(', ')}</span>
      </summary>
      {kind.sections.map((section, i) => (
        <fieldset key={i} class="note">
          <legend>
            {i + 1}. {section.name}
          </legend>
          {section.lengthMm === 'rest' ? (
            <p>Fills the rest of the length.</p>
          ) : (
            <FigureInput form={form} field={figure(`${at}/sections/${i}/lengthMm`, 'Length', 1, 400)} />
          )}
          {section.layers.map((layer, j) => {
            const place = `${at}/sections/${i}/layers/${j}`;
            return (
              <div key={j}>
                <div class="pair">
                  <SelectField
                    label={section.layers.length > 1 ? `Layer ${j + 1}` : 'Shape'}
                    value={layer.shape.form}
                    options={Object.entries(FORMS).map(([value, { label }]) => ({ value, label }))}
                    onChange={(value) =>
                      form.change((wheel) => setAt(wheel, `${place}/shape`, FORMS[value as Shape['form']].shape))
                    }
                  />
                  <SelectField
                    label="Material"
                    value={layer.material.name}
                    options={[
                      ...Object.keys(MATERIALS).map((value) => ({ value, label: value })),
                      ...(Object.hasOwn(MATERIALS, layer.material.name)
                        ? []
                        : [{ value: layer.material.name, label: layer.material.name }]),
                    ]}
                    onChange={(value) =>
                      Object.hasOwn(MATERIALS, value) &&
                      form.change((wheel) => setAt(wheel, `${place}/material`, materialNamed(value as MaterialName)))
                    }
                  />
                </div>
                <div class="pair">
                  {Object.keys(layer.shape)
                    .filter((key) => key !== 'form')
                    .map((key) => (
                      <FigureInput
                        key={key}
                        form={form}
                        field={figure(`${place}/shape/${key}`, FIGURES[key] ?? key, 0.3, 12)}
                      />
                    ))}
                </div>
              </div>
            );
          })}
          <div class="row">
            <button
              type="button"
              class="button"
              onClick={() => sections((all) => all.toSpliced(i + 1, 0, { ...section, lengthMm: 20 }))}
            >
              Add a section after it
            </button>
            {kind.sections.length > 1 && section.lengthMm !== 'rest' && (
              <button type="button" class="button" onClick={() => sections((all) => all.toSpliced(i, 1))}>
                Remove
              </button>
            )}
          </div>
        </fieldset>
      ))}
    </details>
  );
}

const figure = (path: string, label: string, low: number, high: number): FigureField => ({
  path,
  label,
  quantity: 'length',
  low,
  high,
});
