import { FigureInput } from './FigureInput.tsx';
import type { FigureField } from './figureField.ts';
import type { DescribeForm } from './useDescribeForm.ts';

/** A wheel listed spoke by spoke: no pattern is assumed. */
export function ListPart({ form }: { readonly form: DescribeForm }) {
  const layout = form.wheel.layout;
  if (layout.kind !== 'list') return null;
  return (
    <>
      <p>This wheel is listed spoke by spoke, in the order round the rim.</p>
      {layout.spokes.map((spoke, i) => (
        <details key={i} class="part">
          <summary>
            {i + 1} <span class="gist">{spoke.side}</span>
          </summary>
          <FigureInput
            form={form}
            field={figure(`layout.spokes.${i}.supportLengthMm`, 'Hub support to nipple seat', false)}
          />
          <FigureInput
            form={form}
            field={figure(`layout.spokes.${i}.crossingFromHubMm`, 'Hub support to crossing', true)}
          />
        </details>
      ))}
    </>
  );
}

const figure = (path: string, label: string, optional: boolean): FigureField => ({
  path,
  label,
  quantity: 'length',
  low: 10,
  high: 450,
  optional,
});
