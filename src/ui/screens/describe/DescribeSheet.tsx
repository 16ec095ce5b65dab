import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { pictureWheel } from '../../../drawing/pictureWheel.ts';
import { wheelDrawing } from '../../../drawing/wheelDrawing.ts';
import type { Wheel } from '../../../spokes/wheel.ts';
import { Drawing } from '../../parts/Drawing.tsx';
import { Field } from '../../parts/Field.tsx';
import { layoutGist } from '../wheelGist.ts';
import { EvennessPart } from './EvennessPart.tsx';
import { showFigure } from './figureField.ts';
import { HubRimPart } from './HubRimPart.tsx';
import { LacingPart } from './LacingPart.tsx';
import { LengthsPart } from './LengthsPart.tsx';
import { LimitsPart } from './LimitsPart.tsx';
import { ListPart } from './ListPart.tsx';
import { SpokesPart } from './SpokesPart.tsx';
import { StatePart } from './StatePart.tsx';
import { SurenessPart } from './SurenessPart.tsx';
import { type DescribeForm, useDescribeForm } from './useDescribeForm.ts';

interface Props {
  /** Name of the draft. */
  readonly formName: string;
  readonly saved: Wheel;
  readonly onDone: (wheel: Wheel, next: 'listen' | 'stay') => void;
  readonly isNew: boolean;
  /** What else belongs to a wheel on the shelf. */
  readonly children?: ComponentChildren;
}

/** The description of one wheel: what the drawing shows as it is typed, the rest folded away with its gist in sight. */
export function DescribeSheet({ formName, saved, onDone, isNew, children }: Props) {
  const form = useDescribeForm(formName, saved);
  const { wheel } = form;
  const blocked = form.wrongCount > 0;
  return (
    <>
      <main>
        <div class="two-columns">
          <div>
            <Field
              label="Name"
              kind="text"
              value={wheel.name}
              onInput={(name) => form.change((one) => ({ ...one, name }))}
            />
            <div class="narrow-only">
              <WheelPreview form={form} />
            </div>
            <Parts form={form} />
            {children}
          </div>
          <aside class="stays wide-only" aria-label="The wheel as described">
            <WheelPreview form={form} />
          </aside>
        </div>
      </main>
      <div class="foot-action no-print">
        {blocked && (
          <div class="row in-the-way">
            <p class="grow" role="status">
              {form.wrongCount === 1 ? 'One figure stands' : `${form.wrongCount} figures stand`} in the way. Nothing
              typed is lost, and no tension is computed from it.
            </p>
            <button type="button" class="button" onClick={showFirstWrong}>
              Show it
            </button>
          </div>
        )}
        <div class="row">
          {!isNew && form.changed && (
            <button type="button" class="button" disabled={blocked} onClick={() => onDone(wheel, 'stay')}>
              Save
            </button>
          )}
          <button
            type="button"
            class="button main-action grow"
            disabled={blocked}
            onClick={() => onDone(wheel, 'listen')}
          >
            {isNew || form.changed ? 'Save and listen' : 'Listen'}
          </button>
        </div>
      </div>
    </>
  );
}

/** To the first figure that is wrong, in whichever part it is folded away. */
function showFirstWrong(): void {
  const field = document.querySelector<HTMLElement>('main [aria-invalid="true"]');
  for (let part = field?.closest('details'); part; part = part.parentElement?.closest('details')) part.open = true;
  field?.scrollIntoView({ block: 'center' });
  field?.focus({ preventScroll: true });
}

function WheelPreview({ form }: { readonly form: DescribeForm }) {
  const spokes = form.check.spokes;
  if (spokes === undefined)
    return <p class="note">The wheel cannot be drawn yet: {Object.values(form.check.wrong)[0]}</p>;
  const gist = layoutGist(form.wheel.layout);
  return (
    <figure class="wheel-preview">
      <Drawing
        tree={wheelDrawing(
          pictureWheel(spokes, () => 'waiting'),
          { label: `The wheel as described, seen from the right: ${gist}.`, letterSize: 28 },
        )}
      />
      <figcaption>{gist}. Full lines: right side; broken: left.</figcaption>
    </figure>
  );
}

function Parts({ form }: { readonly form: DescribeForm }) {
  const { layout, sides, state, targetPercent } = form.wheel;
  const figure = (mm: number) => showFigure(mm, 'length', form.units);
  const limit = sides?.left.limits?.maximumN ?? sides?.right.limits?.maximumN;
  return (
    <>
      <Part title={layout.kind === 'evenness' ? 'Count and sides' : 'Lacing'} gist="" open>
        {() => (
          <>
            {layout.kind === 'evenness' && <EvennessPart form={form} />}
            {layout.kind === 'laced' && <LacingPart form={form} />}
            {layout.kind === 'list' && <ListPart form={form} />}
          </>
        )}
      </Part>
      {layout.kind === 'laced' && (
        <Part
          title="Hub and rim"
          gist={`rim ${figure(layout.rim.effectiveDiameterMm)}, flanges ${figure(layout.hub.left.centreDistanceMm)} | ${figure(layout.hub.right.centreDistanceMm)} ${form.units.length}`}
        >
          {(open) => <HubRimPart form={form} told={open} />}
        </Part>
      )}
      {sides !== undefined && (
        <Part
          title="Spokes"
          gist={[...new Set([sides.left.kindId, sides.right.kindId])]
            .map((id) => form.wheel.kinds[id]?.name ?? id)
            .join(' | ')}
        >
          {(open) => <SpokesPart form={form} told={open} />}
        </Part>
      )}
      {sides !== undefined && layout.kind === 'laced' && (
        <Part title="Lengths by ruler" gist={(sides.left.measured ?? sides.right.measured) ? 'measured' : 'computed'}>
          {(open) => <LengthsPart form={form} told={open} />}
        </Part>
      )}
      {sides !== undefined && (
        <Part
          title="How sure the figures are"
          gist={(sides.left.uncertainty ?? sides.right.uncertainty) ? 'stated' : 'as usual'}
        >
          {() => <SurenessPart form={form} />}
        </Part>
      )}
      <Part
        title={sides === undefined ? 'Evenness target' : 'Limits and target'}
        gist={`${sides === undefined ? '' : limit === undefined ? 'no limit given, ' : `max ${showFigure(limit, 'tension', form.units)} ${form.units.tension}, `}± ${targetPercent} %`}
      >
        {() => <LimitsPart form={form} />}
      </Part>
      <Part title="State now" gist={`tyre ${state.tyre === 'unknown' ? 'not known' : state.tyre}`}>
        {() => <StatePart form={form} />}
      </Part>
    </>
  );
}

interface PartProps {
  readonly title: string;
  readonly gist: string;
  readonly open?: boolean;
  /** Told whether it is unfolded: what nobody sees need not be computed. */
  readonly children: (open: boolean) => ComponentChildren;
}

function Part({ title, gist, open, children }: PartProps) {
  const [unfolded, setUnfolded] = useState(open === true);
  return (
    <details class="part" open={open === true} onToggle={(event) => setUnfolded(event.currentTarget.open)}>
      <summary>
        {title} {gist !== '' && <span class="gist">{gist}</span>}
      </summary>
      {children(unfolded)}
    </details>
  );
}
