import { expandLayout } from '../../../../spokes/expandLayout.ts';
import type { ReportView } from '../../../../spokes/reportView.ts';
import type { Limits, WheelState } from '../../../../spokes/wheel.ts';
import { newtons, type TensionUnit, tensionIn } from '../../../../units.ts';
import { VERSION } from '../../../parts/version.ts';
import { howRoundText } from '../../../text/howText.ts';
import { layoutGist } from '../../wheelGist.ts';

/** What was heard, when, by whom, in which state, and against which limits. */
export function ReportHead({ report, unit }: { readonly report: ReportView; readonly unit: TensionUnit }) {
  const { wheel, round, counts } = report;
  const laid = expandLayout(wheel.layout);
  const absolute = wheel.layout.kind !== 'evenness';
  return (
    <header class="keep">
      <h1 class="report-title">Spoke tension by ear: {wheel.name}</h1>
      <table class="facts">
        <tbody>
          <Fact name="Wheel">
            {layoutGist(wheel.layout)}
            {wheel.note ? `. ${wheel.note}` : ''}
          </Fact>
          <Fact name="Heard">
            {round.startedAt.slice(0, 16).replace('T', ' ')} UTC
            {round.person ? ` by ${round.person}` : ''};{' '}
            {absolute
              ? `${counts.heard} spokes with a tension, ${counts.refused} refused`
              : `${new Set(round.plucks.map((pluck) => pluck.spoke)).size} spokes`}
            , {counts.skipped} passed over; {counts.plucks} plucks taken, {counts.putAside} of them put aside
          </Fact>
          <Fact name="State of the wheel">{stateText(round.state)}</Fact>
          <Fact name="How it was plucked">
            {howRoundText(round, laid.ok ? laid.spokes.map((spoke) => spoke.side) : [])}; {round.plucksToSettle}{' '}
            agreeing plucks settle a spoke
          </Fact>
          {(['left', 'right'] as const).map((side) => (
            <Fact key={side} name={`Limits, ${side}`}>
              {limitsText(wheel.sides?.[side].limits, unit)}
            </Fact>
          ))}
          <Fact name="Evenness target">± {wheel.targetPercent} % of the side’s mean</Fact>
          <Fact name="Made with">
            Ringtrue {VERSION}; figures in {absolute ? unit : 'percent of the side’s mean'}, ± is expanded uncertainty,
            k = 2
          </Fact>
          <Fact name="To compute it again">
            the archive that belongs to this report holds every tone and its uncertainty; npm run measure finds these{' '}
            {absolute ? 'tensions' : 'deviations'} again from it, under this round’s id: {round.id}
          </Fact>
        </tbody>
      </table>
    </header>
  );
}

export const Fact = ({ name, children }: { readonly name: string; readonly children: preact.ComponentChildren }) => (
  <tr>
    <th scope="row">{name}</th>
    <td>{children}</td>
  </tr>
);

export const stateText = (state: WheelState): string =>
  [
    state.tyre === 'unknown' ? 'tyre not stated' : `tyre ${state.tyre}`,
    state.pressureBar === undefined ? '' : `${state.pressureBar} bar`,
    state.temperatureC === undefined ? 'temperature not stated' : `${state.temperatureC} °C`,
  ]
    .filter(Boolean)
    .join(', ');

function limitsText(limits: Limits | undefined, unit: TensionUnit): string {
  if (limits === undefined || (limits.minimumN === undefined && limits.maximumN === undefined))
    return 'none given; none is assumed';
  const shown = (valueN: number | undefined, word: string) => {
    if (valueN === undefined) return `no ${word} given`;
    const own = `${Number(tensionIn(newtons(valueN), unit).toFixed(1))} ${unit}`;
    const stated =
      limits.unit === unit ? '' : ` (${Number(tensionIn(newtons(valueN), limits.unit).toFixed(1))} ${limits.unit})`;
    return `${word} ${own}${stated}`;
  };
  return `${shown(limits.minimumN, 'minimum')}, ${shown(limits.maximumN, 'maximum')}; stated in ${limits.unit}; source: ${limits.source}; hold for: ${stateText(limits.state)}`;
}
