import type { ReportMember } from '../../../../spokes/reportMembers.ts';
import type { ReportView } from '../../../../spokes/reportView.ts';
import type { KindSection, Nipple, Shape } from '../../../../spokes/wheel.ts';
import { inGrams, inMillimetres } from '../../../../units.ts';
import { UNCERTAIN_INPUT_TEXT } from '../../../text/uncertainInputText.ts';
import { WideTable } from '../WideTable.tsx';
import { Fact } from './ReportHead.tsx';

const mm = (metres: number): string => inMillimetres(metres as never).toFixed(1);

/** What rings, on each side: dimensions, masses, stiffnesses, lengths, ends, and where the uncertainty comes from. */
export function ReportMembers({ report }: { readonly report: ReportView }) {
  return (
    <>
      {report.members.map((one) => (
        <section key={`${one.side} ${one.kind.id}`}>
          <h2>
            Member, {one.side}: {one.kind.name}
          </h2>
          <Sections member={one} nipple={report.wheel.sides?.[one.side].nipple} />
          <Lengths member={one} report={report} />
          <Budget member={one} />
        </section>
      ))}
    </>
  );
}

function Sections({ member, nipple }: { readonly member: ReportMember; readonly nipple: Nipple | undefined }) {
  const { sections } = member.described.described.member;
  return (
    <WideTable label={`Sections, ${member.side}, ${member.kind.name}`}>
      <table class="figures sections keep">
        <caption>Sections, hub end first, lengths under tension</caption>
        <thead>
          <tr>
            <th scope="col">Section</th>
            <th scope="col">Shape and material</th>
            <th scope="col" class="number">
              Length, mm
            </th>
            <th scope="col" class="number">
              Mass, g/m
            </th>
            <th scope="col" class="number">
              EI along the rim, N·m²
            </th>
            <th scope="col" class="number">
              EI across, N·m²
            </th>
          </tr>
        </thead>
        <tbody>
          {sections.map((section, i) => {
            const kind = member.kind.sections[i];
            return (
              // The order of the pieces is what names them.
              <tr key={`${i} ${kind?.name ?? 'nipple'}`}>
                <th scope="row">{kind?.name ?? 'nipple, visible part'}</th>
                <td>{kind === undefined ? nippleText(nipple) : layersText(kind)}</td>
                <td class="number">{mm(section.length)}</td>
                <td class="number">{inGrams(section.massPerLength as never).toFixed(2)}</td>
                <td class="number">{section.bendingInPlane.toFixed(4)}</td>
                <td class="number">{section.bendingAcross.toFixed(4)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </WideTable>
  );
}

function Lengths({ member, report }: { readonly member: ReportMember; readonly report: ReportView }) {
  const { lengths, described, weighedFactor } = member.described;
  const { uncertainty } = described;
  const { kind, learned } = member;
  const measured = report.wheel.sides?.[member.side].measured;
  const factor = (one: { readonly value: number; readonly u: number }) =>
    `${one.value.toFixed(3)} ± ${(2 * one.u).toFixed(3)}`;
  return (
    <table class="facts keep">
      <tbody>
        <Fact name="Support to support">
          {mm(lengths.support)} mm, {measured?.supportLengthMm ? 'measured' : 'computed from hub and rim'}; standard
          uncertainty {mm(uncertainty.length)} mm
          {measured?.supportLengthMm ? `; computed ${mm(lengths.computedSupport)} mm` : ''}
        </Fact>
        <Fact name="Crossing">
          {lengths.crossingFromHub === undefined
            ? 'no other spoke touches'
            : `${mm(lengths.crossingFromHub)} mm from the hub’s support, ${measured?.crossingToRimMm ? 'measured' : 'computed'}; standard uncertainty ${mm(uncertainty.crossing)} mm`}
        </Fact>
        <Fact name="Free length">{mm(lengths.free)} mm: what rings</Fact>
        {described.member.sections.length > 1 && uncertainty.sections !== undefined && (
          <Fact name="Borders of the sections">standard uncertainty {mm(uncertainty.sections)} mm</Fact>
        )}
        <Fact name="Mass">
          standard uncertainty {(100 * uncertainty.massRelative).toFixed(1)} %
          {kind.weighed
            ? `; a loose spoke of ${kind.weighed.lengthMm} mm weighed ${kind.weighed.massG} ± ${2 * kind.weighed.uG} g`
            : '; from dimensions and density, not weighed'}
          {weighedFactor === undefined ? '' : `; weighed over computed ${weighedFactor.toFixed(3)}`}
        </Fact>
        <Fact name="Stiffness">standard uncertainty {(100 * uncertainty.stiffnessRelative).toFixed(1)} %</Fact>
        <Fact name="Source of the dimensions">{kind.source || 'not stated'}</Fact>
        {learned && (
          <>
            <Fact name="Ends, as the tones tell (0 pinned, 1 clamped)">
              hub {learned.hubEnd.value.toFixed(2)} ± {(2 * learned.hubEnd.u).toFixed(2)}, rim{' '}
              {learned.rimEnd.value.toFixed(2)} ± {(2 * learned.rimEnd.u).toFixed(2)}; that is c = k/(k + √(T·EI))
              {member.ends &&
                `, at the side’s mean tension k = ${figures(member.ends.hubNmPerRad)} N·m/rad at the hub and ${figures(member.ends.rimNmPerRad)} N·m/rad at the rim`}
            </Fact>
            <Fact name="Factors on the description">
              mass {factor(learned.massFactor)}, stiffness {factor(learned.stiffnessFactor)}; degrees of freedom:{' '}
              {learned.degreesOfFreedom}
            </Fact>
            {learned.contradiction && (
              <Fact name="Caution">a calibration and the description differ by more than both allow</Fact>
            )}
          </>
        )}
      </tbody>
    </table>
  );
}

function Budget({ member }: { readonly member: ReportMember }) {
  return (
    <WideTable label={`Uncertainty budget, ${member.side}, ${member.kind.name}`}>
      <table class="figures budget">
        <caption>
          Uncertainty budget, {member.side}: standard uncertainties in percent of tension, root mean square
        </caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col">Shared by</th>
            <th scope="col" class="number">
              u, %
            </th>
          </tr>
        </thead>
        <tbody>
          {member.budget.map((part) => (
            <tr key={`${part.input} ${part.scope}`}>
              <th scope="row">{UNCERTAIN_INPUT_TEXT[part.input].name}</th>
              <td>{part.scope === 'own' ? 'each spoke its own' : 'all spokes of the side'}</td>
              <td class="number">{part.percent.toFixed(2)}</td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">together, what differs from spoke to spoke</th>
            <td>evenness uses this alone</td>
            <td class="number">{member.uOwnPercent.toFixed(2)}</td>
          </tr>
          <tr class="sum">
            <th scope="row">together, what all share</th>
            <td>limits use both</td>
            <td class="number">{member.uCommonPercent.toFixed(2)}</td>
          </tr>
        </tbody>
      </table>
    </WideTable>
  );
}

const figures = (value: number): string => `${Number(value.toPrecision(2))}`;

const layersText = (section: KindSection): string =>
  section.layers
    .map(
      ({ shape, material }) =>
        `${shapeText(shape)} mm ${material.name} (${material.modulusGPa} GPa, ${material.densityKgM3} kg/m³)`,
    )
    .join(' in ');

const nippleText = (nipple: Nipple | undefined): string =>
  nipple === undefined
    ? 'wire inside its nipple'
    : `wire inside its nipple: Ø ${nipple.outerDiameterMm} mm ${nipple.material.name} (${nipple.material.modulusGPa} GPa, ${nipple.material.densityKgM3} kg/m³)`;

function shapeText(shape: Shape): string {
  switch (shape.form) {
    case 'round':
      return `Ø ${shape.diameterMm}`;
    case 'oval':
    case 'flat':
      return `${shape.form} ${shape.widthMm} × ${shape.thicknessMm}`;
    case 'tube':
      return `tube ${shape.outerMm}/${shape.innerMm}`;
  }
}
