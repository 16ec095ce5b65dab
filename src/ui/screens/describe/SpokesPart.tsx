import { memberDrawing } from '../../../drawing/memberDrawing.ts';
import { pictureMember } from '../../../drawing/pictureMember.ts';
import { CATALOGUE } from '../../../spokes/catalogue.ts';
import { NIPPLES } from '../../../spokes/nipples.ts';
import { weighedAside } from '../../../spokes/weighedAside.ts';
import type { Side, Wheel } from '../../../spokes/wheel.ts';
import { SelectField } from '../../parts/SelectField.tsx';
import { TwoWidths } from '../../parts/TwoWidths.tsx';
import { getAt, pointerKey, setAt } from './atPath.ts';
import { FigureInput } from './FigureInput.tsx';
import { effectSentence } from './fieldEffects.ts';
import { nippleExposed, sectionLength, weighedLength, weighedMass } from './fields.ts';
import { KindEditor } from './KindEditor.tsx';
import type { DescribeForm } from './useDescribeForm.ts';
import { weighingText } from './weighingText.ts';

const OWN = '@own';

/** Spoke kind and nipple of each side, drawn to scale. */
export function SpokesPart({ form, told }: { readonly form: DescribeForm; readonly told: boolean }) {
  const sides = form.wheel.sides;
  if (sides === undefined) return null;
  const kinds = [...new Set([sides.left.kindId, sides.right.kindId])];
  return (
    <>
      <div class="pair">
        <KindChoice form={form} side="left" />
        <KindChoice form={form} side="right" />
      </div>
      {(['left', 'right'] as const).map((side) => (
        <SpokePicture key={side} form={form} side={side} />
      ))}
      <div class="pair">
        <NippleChoice form={form} side="left" />
        <NippleChoice form={form} side="right" />
      </div>
      <div class="pair">
        {(['left', 'right'] as const).map(
          (side) =>
            sides[side].nipple.kind === 'external' && (
              <FigureInput key={side} form={form} field={nippleExposed(side)} />
            ),
        )}
      </div>
      {kinds.map((kindId) => (
        <section key={kindId} aria-label={form.wheel.kinds[kindId]?.name ?? kindId}>
          <h2>Spoke {form.wheel.kinds[kindId]?.name ?? kindId}</h2>
          <p class="soft">Source: {form.wheel.kinds[kindId]?.source}</p>
          <div class="pair">
            <FigureInput form={form} field={weighedMass(kindId)} />
            {getAt(form.wheel, `/kinds/${pointerKey(kindId)}/weighed`) !== undefined && (
              <FigureInput form={form} field={weighedLength(kindId)} />
            )}
          </div>
          <Weighing form={form} kindId={kindId} />
          <EndLengths form={form} kindId={kindId} told={told} />
          <KindEditor form={form} kindId={kindId} />
        </section>
      ))}
    </>
  );
}

function Weighing({ form, kindId }: { readonly form: DescribeForm; readonly kindId: string }) {
  const kind = form.wheel.kinds[kindId];
  const example = Object.values(form.check.examples).find((one) => one.kindId === kindId);
  if (kind === undefined || example?.weighedFactor === undefined) return null;
  return <p>{weighingText(weighedAside(kind, example.weighedFactor))}</p>;
}

/** How long the thick ends are, and whether a ruler found them on the built wheel or on the loose spoke, whose thread then hides in the nipple. */
function EndLengths({
  form,
  kindId,
  told,
}: {
  readonly form: DescribeForm;
  readonly kindId: string;
  readonly told: boolean;
}) {
  const kind = form.wheel.kinds[kindId];
  const sections = kind?.sections ?? [];
  const middle = sections.find((section) => section.lengthMm === 'rest');
  if (middle === undefined || sections.length < 2) return null;
  const side = form.wheel.sides?.left.kindId === kindId ? 'left' : 'right';
  const external = form.wheel.sides?.[side].nipple.kind === 'external';
  const loose = external && kind?.lengths === 'loose';
  return (
    <section aria-label="Its ends, by ruler">
      <h3>Its ends, by ruler</h3>
      {external && (
        <SelectField
          label="Measured on"
          value={loose ? 'loose' : 'inWheel'}
          options={[
            { value: 'inWheel', label: 'the built wheel' },
            { value: 'loose', label: 'a loose spoke' },
          ]}
          onChange={(value) => form.change((wheel) => setAt(wheel, `/kinds/${pointerKey(kindId)}/lengths`, value))}
        />
      )}
      <p class="soft">
        {loose
          ? `From the inside of the bend, or from under the head, to where the ${middle.name} begins, and from its end to the end of the thread. What hides in the nipple is taken off.`
          : `As far as you see them: at the hub from where the spoke leaves it to where the ${middle.name} begins, at the rim from the end of the ${middle.name} to ${external ? 'the edge of the nipple' : 'the rim'}. What hides in the nipple does not count.`}{' '}
        The drawing shows both.
      </p>
      <div class="pair">
        {sections.map((section, i) => {
          if (section.lengthMm === 'rest') return null;
          const field = sectionLength(kindId, i, section.name);
          return (
            <FigureInput
              key={field.path}
              form={form}
              field={field}
              effect={told ? effectSentence(form.wheel, field, form.units, side) : undefined}
            />
          );
        })}
      </div>
    </section>
  );
}

function KindChoice({ form, side }: { readonly form: DescribeForm; readonly side: Side }) {
  const own = Object.values(form.wheel.kinds).filter((kind) => !CATALOGUE.some((one) => one.id === kind.id));
  const options = [
    ...CATALOGUE.map((kind) => ({ value: kind.id, label: kind.name })),
    ...own.map((kind) => ({ value: kind.id, label: kind.name })),
    { value: OWN, label: 'own dimensions …' },
  ];
  return (
    <SelectField
      label={`Spoke, ${side}`}
      value={form.wheel.sides?.[side].kindId ?? ''}
      options={options}
      onChange={(id) => form.change((wheel) => withKind(wheel, side, id))}
      effect="Its mass and stiffness; thickness counts about twice."
    />
  );
}

function NippleChoice({ form, side }: { readonly form: DescribeForm; readonly side: Side }) {
  const nipple = form.wheel.sides?.[side].nipple;
  const name = Object.entries(NIPPLES).find(
    ([, one]) =>
      one.kind === nipple?.kind &&
      (one.kind === 'internal' || (one.lengthMm === nipple.lengthMm && one.material.name === nipple.material.name)),
  )?.[0];
  return (
    <SelectField
      label={`Nipple, ${side}`}
      value={name ?? 'own'}
      options={[
        ...Object.keys(NIPPLES).map((value) => ({ value, label: value })),
        ...(name === undefined ? [{ value: 'own', label: 'as described' }] : []),
      ]}
      onChange={(value) => form.change((wheel) => setAt(wheel, `sides.${side}.nipple`, NIPPLES[value]))}
    />
  );
}

/** Of a sheet that a phone of 320 pixels shows at two thirds: 16 pixels there. */
const NARROW_LETTERS = 24;

function SpokePicture({ form, side }: { readonly form: DescribeForm; readonly side: Side }) {
  const example = form.check.examples[side];
  const kind = form.wheel.kinds[form.wheel.sides?.[side].kindId ?? ''];
  if (example === undefined || kind === undefined) return null;
  const { described, lengths } = example;
  const hub = form.wheel.layout.kind === 'laced' ? form.wheel.layout.hub.kind : 'elbow';
  return (
    <figure>
      <figcaption class="lettering">
        {side}: {kind.name}
      </figcaption>
      <TwoWidths
        draw={(width) =>
          memberDrawing(pictureMember(described.member, kind, hub), {
            label: `Spoke of the ${side} side with its sections; ${(lengths.free * 1000).toFixed(1)} mm ring when the crossing is held.`,
            lengthUnit: form.units.length,
            ringing: 'outsideCrossing',
            letterSize: width === 'narrow' ? NARROW_LETTERS : 17,
          })
        }
      />
    </figure>
  );
}

/** The kind is copied into the wheel, so that the wheel never points outside itself. */
function withKind(wheel: Wheel, side: Side, id: string): Wheel {
  const known = wheel.kinds[id] ?? CATALOGUE.find((kind) => kind.id === id);
  if (id === OWN || known === undefined) {
    const from = wheel.kinds[wheel.sides?.[side].kindId ?? ''] ?? CATALOGUE[1];
    if (from === undefined) return wheel;
    const ownId = freeId(wheel);
    const own = { ...from, id: ownId, name: `own dimensions ${Object.keys(wheel.kinds).length + 1}`, source: 'typed' };
    return setAt(setAt(wheel, `/kinds/${pointerKey(ownId)}`, own), `sides.${side}.kindId`, ownId);
  }
  return setAt(setAt(wheel, `/kinds/${pointerKey(id)}`, known), `sides.${side}.kindId`, id);
}

function freeId(wheel: Wheel): string {
  let n = 1;
  while (wheel.kinds[`own-${n}`] !== undefined) n++;
  return `own-${n}`;
}
