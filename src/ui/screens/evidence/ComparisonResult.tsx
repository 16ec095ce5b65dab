import { useMemo } from 'preact/hooks';
import { compareMethods } from '../../../spokes/compareMethods.ts';
import type { Gauge } from '../../../spokes/gauge.ts';
import { secondReadings } from '../../../spokes/secondReadings.ts';
import type { Round, Side, Wheel } from '../../../spokes/wheel.ts';
import { useStore } from '../../store/useStore.ts';
import { CrossCalibrated } from './CrossCalibrated.tsx';
import { CORRELATION_TEXT } from './conclusionText.ts';
import { EarRepeats } from './EarRepeats.tsx';
import { earReadings } from './earReadings.ts';
import { GaugeByEar } from './GaugeByEar.tsx';
import { KnownNote } from './KnownNote.tsx';
import { NoEar } from './NoEar.tsx';
import { otherStateText } from './otherStateText.ts';
import { outsideText } from './outsideText.ts';
import { PairTable } from './PairTable.tsx';
import { Repeats } from './Repeats.tsx';
import { SideAgreement } from './SideAgreement.tsx';
import { tableProblemText } from './tableProblemText.ts';
import { useMeasuredRound } from './useMeasuredRound.ts';

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly sides: readonly Side[];
  readonly gauge: Gauge;
}

/** What both methods say, side by side. */
export function ComparisonResult({ wheel, round, sides, gauge }: Props) {
  const unit = useStore((state) => state.preferences.tensionUnit);
  const measured = useMeasuredRound(wheel, round);
  const ear = useMemo(() => earReadings(measured), [measured]);
  const second = useMemo(
    () => secondReadings(gauge, sides, { wheel, state: round.state }),
    [gauge, sides, wheel.layout, wheel.sides, wheel.kinds, round.state],
  );
  const comparison = useMemo(() => compareMethods([ear], second.readings, sides), [ear, second, sides]);
  if (gauge.rounds.every((one) => one.readings.length === 0)) return null;
  return (
    <section aria-label="Ear beside gauge">
      <h2>Ear beside gauge</h2>
      {(measured === undefined || measured.status === 'working') && <p role="status">Measuring …</p>}
      {second.uAssumed && second.readings.size > 0 && (
        <p class="note">The gauge’s uncertainty is not stated; ± 10 % is taken, common practice.</p>
      )}
      {gauge.calibrated === undefined && (
        <p class="note">When this gauge was last calibrated is not stated: its scale may be off as a whole.</p>
      )}
      {second.outside.length > 0 && (
        <p class="note caution">Beyond the chart and left out: {outsideText(second.outside)}.</p>
      )}
      {second.withoutChart.map((side) => (
        <p key={side} class="note caution">
          The {side} side has no chart, so its readings are no tensions. The round by ear can make one, below.
        </p>
      ))}
      {second.otherStates.map((one) => (
        <p key={one.at} class="note caution">
          {otherStateText(one, round.state, unit)}
        </p>
      ))}
      {second.chartProblems.map((one) => (
        <p key={`${one.side} ${one.row} ${one.reason}`} class="note caution">
          Chart, {one.side}: {tableProblemText(one.row, one.reason, one.detail)}
        </p>
      ))}
      {second.readings.size + second.marks.size > 0 && <KnownNote wheel={wheel} />}
      <NoEar measured={measured} />
      {comparison.tooFew.map((side) => (
        <p key={side}>The {side} side has fewer than three spokes with both readings: too few to compare.</p>
      ))}
      <div class="sides">
        {comparison.sides.map((one) => (
          <SideAgreement key={one.side} comparison={one} unit={unit} />
        ))}
      </div>
      {comparison.sides.length > 0 && <p class="soft">{CORRELATION_TEXT}</p>}
      <h2>Repeatability</h2>
      <EarRepeats wheel={wheel} round={round} unit={unit} />
      {second.readings.size > 0 && <Repeats method={gauge.name} rounds={second.rounds} unit={unit} />}
      <GaugeByEar wheel={wheel} ear={ear} second={second} sides={sides} unit={unit} />
      {ear.size > 0 && <CrossCalibrated wheel={wheel} round={round} second={second.readings} unit={unit} />}
      {second.readings.size > 0 && (
        <>
          <h2>Spoke by spoke</h2>
          <PairTable ear={ear} second={second.readings} sides={sides} unit={unit} />
        </>
      )}
    </section>
  );
}
