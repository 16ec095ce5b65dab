import { differencePlot } from '../../../drawing/differencePlot.ts';
import type { SideComparison } from '../../../spokes/compareMethods.ts';
import { newtons, type TensionUnit, tensionIn } from '../../../units.ts';
import { NARROW_STRIP, TwoWidths } from '../../parts/TwoWidths.tsx';
import { conclusionText } from './conclusionText.ts';
import { intervalInUnit, intervalText, inUnit, signedInUnit } from './inUnit.ts';

interface Props {
  readonly comparison: SideComparison;
  readonly unit: TensionUnit;
}

/** The plot as it is shown and handed out. */
export function agreementPlot(
  { agreement, side }: SideComparison,
  unit: TensionUnit,
  width: 'wide' | 'narrow' = 'wide',
) {
  const shown = (valueN: number) => tensionIn(newtons(valueN), unit);
  const limit = (one: SideComparison['agreement']['lower']) => ({
    value: shown(one.value),
    low: shown(one.low),
    high: shown(one.high),
  });
  return differencePlot(
    {
      unit,
      pairs: agreement.points.map((point) => ({
        number: point.spoke,
        mean: shown(point.mean),
        difference: shown(point.difference),
      })),
      meanDifference: shown(agreement.bias.value),
      lower: limit(agreement.lower),
      upper: limit(agreement.upper),
    },
    {
      label: `${side} side: ear less gauge against the mean of both, spoke by spoke. Mean difference ${inUnit(agreement.bias.value, unit)} ${unit}, limits of agreement ${inUnit(agreement.lower.value, unit)} and ${inUnit(agreement.upper.value, unit)} ${unit}.`,
      ...(width === 'narrow' && { narrow: NARROW_STRIP }),
    },
  );
}

const RATIO_FROM = {
  repeats: 'both methods’ repeats',
  mixed: 'one method’s repeats and the other’s own part',
  uncertainties: 'both methods’ stated uncertainties',
} as const;

/** One side: what follows, the plot, and every figure with its interval; on paper beside each other. */
export function SideAgreement({ comparison, unit }: Props) {
  const name = comparison.side === 'left' ? 'Left side' : 'Right side';
  return (
    <section class="keep agreement" aria-label={name}>
      <h3>{name}</h3>
      <p class="conclusion">{conclusionText(comparison, unit)}</p>
      <div class="beside">
        <div>
          <TwoWidths draw={(width) => agreementPlot(comparison, unit, width)} />
          <p class="soft">
            Each point a spoke. Chain line: mean difference; heavy lines: limits of agreement within their 95 % bands;
            thin line: no difference.
          </p>
        </div>
        <AgreementFigures name={name} comparison={comparison} unit={unit} />
      </div>
      <p>
        {disagreeingText(comparison, unit)}
        {comparison.deming && ` Deming’s ratio of variances is from ${RATIO_FROM[comparison.deming.ratioFrom]}.`}
      </p>
    </section>
  );
}

const disagreeingText = ({ disagreeing }: SideComparison, unit: TensionUnit): string =>
  disagreeing.length === 0
    ? 'No spoke’s two readings lie farther apart than both uncertainties allow.'
    : `Farther apart than both uncertainties allow: ${disagreeing
        .map(
          (one) =>
            `${one.spoke} (${signedInUnit(one.differenceN, unit)} against ±\u00a0${inUnit(one.expandedN, unit)} ${unit})`,
        )
        .join('; ')}. Read these again by both methods.`;

function AgreementFigures({ name, comparison, unit }: Props & { readonly name: string }) {
  const { agreement, deming, passingBablok } = comparison;
  return (
    <table class="figures keep">
      <caption>
        {name}, ear less gauge, {unit} (95 % interval)
      </caption>
      <tbody>
        <Row name="Mean difference (bias)">{intervalInUnit(agreement.bias, unit)}</Row>
        <Row name="Standard deviation, single readings">{inUnit(agreement.sd, unit, 1)}</Row>
        <Row name="Lower limit of agreement">{intervalInUnit(agreement.lower, unit)}</Row>
        <Row name="Upper limit of agreement">{intervalInUnit(agreement.upper, unit)}</Row>
        <Row name={`Change of the difference with tension, ${unit} per ${unit}`}>
          {intervalText(agreement.proportional.slope)}
        </Row>
        {deming && (
          <>
            <Row name="Ear on gauge (Deming): slope">{intervalText(deming.slope)}</Row>
            <Row name="Deming: intercept">{intervalInUnit(deming.intercept, unit)}</Row>
            <Row name="Deming: ratio of variances">{deming.ratio.toFixed(2)}</Row>
          </>
        )}
        {passingBablok && (
          <>
            <Row name="Passing–Bablok: slope">{intervalText(passingBablok.slope)}</Row>
            <Row name="Passing–Bablok: intercept">{intervalInUnit(passingBablok.intercept, unit)}</Row>
          </>
        )}
        <Row name="Correlation">{agreement.correlation.toFixed(3)}</Row>
      </tbody>
    </table>
  );
}

const Row = ({ name, children }: { readonly name: string; readonly children: preact.ComponentChildren }) => (
  <tr>
    <th scope="row">{name}</th>
    <td class="number">{children}</td>
  </tr>
);
