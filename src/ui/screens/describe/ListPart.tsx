import { useState } from 'preact/hooks';
import { addSpoke, removeSpoke } from '../../../spokes/editList.ts';
import type { ListedLayout, ListedSpoke } from '../../../spokes/wheel.ts';
import { setAt } from './atPath.ts';
import { showFigure } from './figureField.ts';
import { ListedSpokeFields } from './ListedSpokeFields.tsx';
import type { DescribeForm } from './useDescribeForm.ts';

/** A wheel listed spoke by spoke: no pattern is assumed. */
export function ListPart({ form }: { readonly form: DescribeForm }) {
  const [open, setOpen] = useState<number | undefined>(undefined);
  const layout = form.wheel.layout;
  if (layout.kind !== 'list') return null;
  const put = (next: ListedLayout, unfolded: number | undefined) => {
    form.change((wheel) => setAt(wheel, 'layout', next));
    setOpen(unfolded);
  };
  const wrong = form.check.wrong['layout.spokes'];
  return (
    <>
      <p>This wheel is listed spoke by spoke, in the order round the rim, the first after the valve hole.</p>
      {form.wheel.rounds.length > 0 && (
        <p class="note caution">
          Rounds that were heard keep their numbers: where a spoke is added or taken out, what was heard behind it would
          stand at the wrong place. Copy this wheel and change the copy instead.
        </p>
      )}
      {wrong !== undefined && <p class="wrong">{wrong}</p>}
      {layout.spokes.map((spoke, i) => (
        <details
          key={i}
          class="part"
          open={open === i}
          onToggle={(event) => {
            if (event.currentTarget.open) setOpen(i);
            else if (open === i) setOpen(undefined);
          }}
        >
          <summary>
            {i + 1} <span class="gist">{gist(form, spoke, i)}</span>
          </summary>
          {open === i && (
            <>
              <ListedSpokeFields form={form} spoke={spoke} index={i} />
              <div class="row">
                <button type="button" class="button grow" onClick={() => put(addSpoke(layout, i + 1), i + 1)}>
                  Add a spoke after {i + 1}
                </button>
                <button type="button" class="button grow" onClick={() => put(removeSpoke(layout, i + 1), undefined)}>
                  Take spoke {i + 1} out
                </button>
              </div>
            </>
          )}
        </details>
      ))}
      <button
        type="button"
        class="button"
        onClick={() => put(addSpoke(layout, layout.spokes.length), layout.spokes.length)}
      >
        Add a spoke at the end
      </button>
    </>
  );
}

function gist(form: DescribeForm, spoke: ListedSpoke, index: number): string {
  const length = `${showFigure(spoke.supportLengthMm, 'length', form.units)} ${form.units.length}`;
  const touching = spoke.crossingPartner === undefined ? '' : `, touches ${spoke.crossingPartner}`;
  const place = `layout.spokes.${index}.`;
  const wrong = Object.keys(form.check.wrong).some((path) => path.startsWith(place)) ? ', to be corrected' : '';
  return `${spoke.side}, ${length}${touching}${wrong}`;
}
