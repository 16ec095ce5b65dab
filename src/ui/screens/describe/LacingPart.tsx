import { DEFAULT_UNCERTAINTY, headAt } from '../../../spokes/describeMember.ts';
import { asList } from '../../../spokes/editList.ts';
import type { Lacing, ListedLayout, SideSpokes, Wheel } from '../../../spokes/wheel.ts';
import { inMillimetres } from '../../../units.ts';
import { Choices } from '../../parts/Choices.tsx';
import { setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import { crosses, MORE_COUNT, PAIR_SPACING, SPOKE_COUNT } from './fields.ts';
import type { DescribeForm } from './useDescribeForm.ts';

const SIDES = [
  { value: 'left', label: 'left' },
  { value: 'right', label: 'right' },
] as const;

/** Count and lacing: what the drawing beside it shows at once. */
export function LacingPart({ form }: { readonly form: DescribeForm }) {
  const layout = form.wheel.layout;
  if (layout.kind !== 'laced') return null;
  const { lacing, hub } = layout;
  const set = (path: string, value: unknown) => form.change((wheel) => setAt(wheel, path, value));
  const touching = (side: 'left' | 'right') => (
    <Choices
      legend={`Crossed spokes touch, ${side}`}
      value={lacing[side].touching ? 'yes' : 'no'}
      options={[
        { value: 'yes', label: 'they touch' },
        { value: 'no', label: 'they pass' },
      ]}
      onChange={(value) => set(`layout.lacing.${side}.touching`, value === 'yes')}
    >
      Touching spokes ring from the crossing to the rim, others from hub to rim.
    </Choices>
  );
  return (
    <>
      <FigureInput form={form} field={SPOKE_COUNT} />
      <div class="pair">
        <FigureInput form={form} field={crosses('left')} />
        <FigureInput form={form} field={crosses('right')} />
      </div>
      <Choices<Lacing['pattern']>
        legend="Round the rim"
        value={lacing.pattern}
        options={[
          { value: 'alternating', label: 'left, right, left …' },
          { value: 'paired', label: 'in pairs' },
          { value: 'twoToOne', label: 'two to one' },
        ]}
        onChange={(pattern) => form.change((wheel) => withPattern(wheel, pattern))}
      />
      {lacing.pattern === 'paired' && <FigureInput form={form} field={PAIR_SPACING} />}
      {lacing.pattern === 'twoToOne' && (
        <>
          <Choices
            legend="Fuller side"
            value={lacing.moreSide ?? 'right'}
            options={SIDES}
            onChange={(side) => set('layout.lacing.moreSide', side)}
          />
          <FigureInput form={form} field={MORE_COUNT} />
        </>
      )}
      <Choices
        legend="First spoke after the valve hole"
        value={lacing.firstSide}
        options={SIDES}
        onChange={(side) => set('layout.lacing.firstSide', side)}
      >
        Clockwise, seen from the right: the side with the sprockets or, in front, your right as you ride.
      </Choices>
      {(lacing.left.crosses > 0 || lacing.right.crosses > 0) && (
        <>
          {lacing.left.crosses > 0 && <Heading form={form} side="left" />}
          {lacing.right.crosses > 0 && <Heading form={form} side="right" />}
        </>
      )}
      <Choices
        legend="Hub"
        value={hub.kind}
        options={[
          { value: 'elbow', label: 'bent spokes' },
          { value: 'straightPull', label: 'straight pull' },
        ]}
        onChange={(kind) => set('layout.hub.kind', kind)}
      >
        Straight-pull spokes leave the hub along a line; crossed ones need not touch.
      </Choices>
      {hub.kind === 'straightPull' && lacing.left.crosses > 0 && touching('left')}
      {hub.kind === 'straightPull' && lacing.right.crosses > 0 && touching('right')}
      <ListInstead form={form} />
    </>
  );
}

/** The way out for what no pattern describes. */
function ListInstead({ form }: { readonly form: DescribeForm }) {
  const { spokes } = form.check;
  const list = spokes && asList(spokes);
  if (list === undefined) return null;
  return (
    <>
      <button type="button" class="button" onClick={() => form.change((wheel) => listedWheel(wheel, list))}>
        List its spokes one by one
      </button>
      <p class="soft">
        For a wheel that no pattern fits: every spoke then has its own lengths. Corrections of tyre and temperature need
        hub and rim, and are not computed for a list.
      </p>
    </>
  );
}

/** A list says nothing of the hub, so what was weighed with a spoke goes along with its kind; and its lengths stay as unsure as they were. */
function listedWheel(wheel: Wheel, layout: ListedLayout): Wheel {
  const head = wheel.layout.kind === 'laced' ? { head: headAt(wheel.layout.hub) } : {};
  const kinds = Object.fromEntries(Object.entries(wheel.kinds).map(([id, kind]) => [id, { ...head, ...kind }]));
  const lengthMm = inMillimetres(DEFAULT_UNCERTAINTY.computedLength);
  const unsure = (side: SideSpokes): SideSpokes => ({ ...side, uncertainty: { lengthMm, ...side.uncertainty } });
  const { sides } = wheel;
  return {
    ...wheel,
    layout,
    kinds,
    ...(sides && { sides: { left: unsure(sides.left), right: unsure(sides.right) } }),
  };
}

function Heading({ form, side }: { readonly form: DescribeForm; readonly side: 'left' | 'right' }) {
  const layout = form.wheel.layout;
  if (layout.kind !== 'laced') return null;
  return (
    <Choices
      legend={`First spoke of the ${side} side points`}
      value={layout.lacing[side].firstHeading ?? 'trailing'}
      options={[
        { value: 'trailing', label: 'back (trailing)' },
        { value: 'leading', label: 'forwards (leading)' },
      ]}
      onChange={(value) => form.change((wheel) => setAt(wheel, `layout.lacing.${side}.firstHeading`, value))}
    />
  );
}

/** A new pattern starts with figures that fit it, so that nothing is wrong before anything was typed. */
function withPattern(wheel: Wheel, pattern: Lacing['pattern']): Wheel {
  const next = setAt(wheel, 'layout.lacing.pattern', pattern);
  if (wheel.layout.kind !== 'laced') return next;
  const { lacing } = wheel.layout;
  if (pattern === 'paired' && lacing.pairSpacingMm === undefined) return setAt(next, 'layout.lacing.pairSpacingMm', 30);
  if (pattern === 'twoToOne' && lacing.moreSide === undefined) return setAt(next, 'layout.lacing.moreSide', 'right');
  return next;
}
