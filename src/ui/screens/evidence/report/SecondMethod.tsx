import { useMemo } from 'preact/hooks';
import { compareMethods } from '../../../../spokes/compareMethods.ts';
import type { Gauge } from '../../../../spokes/gauge.ts';
import { CHART_SCHEME } from '../../../../spokes/gaugeChart.ts';
import { secondReadings, U_GAUGE_UNSTATED } from '../../../../spokes/secondReadings.ts';
import type { Round, Side, Wheel } from '../../../../spokes/wheel.ts';
import type { TensionUnit } from '../../../../units.ts';
import type { MeasuredRound } from '../../../store/appState.ts';
import { CORRELATION_TEXT } from '../conclusionText.ts';
import { earReadings } from '../earReadings.ts';
import { GaugeByEar } from '../GaugeByEar.tsx';
import { KnownNote } from '../KnownNote.tsx';
import { NoEar } from '../NoEar.tsx';
import { otherStateText } from '../otherStateText.ts';
import { outsideText } from '../outsideText.ts';
import { PairTable } from '../PairTable.tsx';
import { Repeats } from '../Repeats.tsx';
import { SideAgreement } from '../SideAgreement.tsx';
import { Fact, stateText } from './ReportHead.tsx';
import { SplitByGauge } from './SplitByGauge.tsx';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly gauge: Gauge;
  readonly sides: readonly Side[];
  readonly measured: MeasuredRound | undefined;
  readonly unit: TensionUnit;
}

/** The gauge, what it read, and how far the two methods agree. */
export function SecondMethod({ wheel, round, gauge, sides, measured, unit }: Props) {
  const ear = useMemo(() => earReadings(measured), [measured]);
  const second = useMemo(
    () => secondReadings(gauge, sides, { wheel, state: round.state }),
    [gauge, sides, wheel.layout, wheel.sides, wheel.kinds, round.state],
  );
  const comparison = useMemo(() => compareMethods([ear], second.readings, sides), [ear, second, sides]);
  const charts = new Map(
    (['left', 'right'] as const).flatMap((side) => {
      const chart = gauge.charts?.[side];
      if (chart === undefined) return [];
      const points = chart.points.map((point) => `${point.reading} → ${point.tension}`).join('; ');
      return [[`${points} ${chart.unit}`, chart.section || 'section not named'] as const];
    }),
  );
  return (
    <section>
      <h2>Second method: {gauge.name}</h2>
      <table class="facts">
        <tbody>
          <Fact name="Its readings">
            {gauge.scale === 'direct'
              ? `tension in ${gauge.unit}; ${second.readings.size} spokes`
              : charts.size === 0
                ? `marks without a chart, so no tensions; ${second.marks.size} spokes`
                : `marks, turned into tension by its chart (${CHART_SCHEME}), never beyond it; ${second.readings.size} spokes`}
          </Fact>
          {gauge.scale === 'chart' &&
            [...charts].map(([points, section]) => (
              <Fact key={points} name={`Chart, ${section}`}>
                {points}
              </Fact>
            ))}
          <Fact name="Its uncertainty">
            {gauge.uPercent === undefined
              ? `not stated; ± ${200 * U_GAUGE_UNSTATED} % taken (k = 2, common practice)`
              : `± ${2 * gauge.uPercent} % (k = 2)`}
          </Fact>
          <Fact name="Last calibration">{gauge.calibrated ?? 'not stated'}</Fact>
          <Fact name="State of the wheel with it">{statesText(gauge)}</Fact>
          {second.outside.length > 0 && <Fact name="Beyond the chart, left out">{outsideText(second.outside)}</Fact>}
        </tbody>
      </table>
      {second.otherStates.map((one) => (
        <p key={one.at} class="note caution">
          {otherStateText(one, round.state, unit)}
        </p>
      ))}
      <KnownNote wheel={wheel} />
      <NoEar measured={measured} />
      {comparison.tooFew.map((side) => (
        <p key={side}>The {side} side has fewer than three spokes with both readings: too few to compare.</p>
      ))}
      {comparison.sides.map((one) => (
        <SideAgreement key={one.side} comparison={one} unit={unit} />
      ))}
      {comparison.sides.length > 0 && <p class="soft">{CORRELATION_TEXT}</p>}
      {second.readings.size > 0 && (
        <>
          <Repeats method={gauge.name} rounds={second.rounds} unit={unit} />
          <h3>Both methods, spoke by spoke</h3>
          <PairTable ear={ear} second={second.readings} sides={sides} unit={unit} />
        </>
      )}
      <GaugeByEar wheel={wheel} ear={ear} second={second} sides={sides} unit={unit} />
      <SplitByGauge
        key={measured?.status}
        wheel={wheel}
        round={round}
        second={second.readings}
        ready={measured?.status === 'ready' && ear.size > 0}
        unit={unit}
      />
    </section>
  );
}

const statesText = (gauge: Gauge): string =>
  [...new Set(gauge.rounds.filter((one) => one.readings.length > 0).map((one) => stateText(one.state)))].join('; ');
