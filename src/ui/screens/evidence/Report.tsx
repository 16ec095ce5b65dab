import '../../styles/evidence.css';
import '../../styles/report.css';
import '../../styles/reportNarrow.css';
import { useMemo, useState } from 'preact/hooks';
import { reportView } from '../../../spokes/reportView.ts';
import { rereadRound } from '../../../spokes/rereadRound.ts';
import type { Round, Wheel } from '../../../spokes/wheel.ts';
import { Drawing } from '../../parts/Drawing.tsx';
import { routeHref } from '../../parts/route.ts';
import { SelectField } from '../../parts/SelectField.tsx';
import { TwoWidths } from '../../parts/TwoWidths.tsx';
import { Cautions } from '../Cautions.tsx';
import { headline } from '../judge/headline.ts';
import { Legend } from '../judge/Legend.tsx';
import { STRIP_KEY } from '../judge/stripOf.ts';
import { useJudgement } from '../judge/useJudgement.ts';
import { EarRepeats } from './EarRepeats.tsx';
import { HandOut } from './report/HandOut.tsx';
import { ReportChange } from './report/ReportChange.tsx';
import { ReportHead } from './report/ReportHead.tsx';
import { ReportKnown } from './report/ReportKnown.tsx';
import { ReportMembers } from './report/ReportMembers.tsx';
import { ReportMethod, ReportSound } from './report/ReportMethod.tsx';
import { ReportSides } from './report/ReportSides.tsx';
import { ReportWorked } from './report/ReportWorked.tsx';
import { reportPictures } from './report/reportPictures.ts';
import { SecondMethod } from './report/SecondMethod.tsx';
import { SpokeRows } from './report/SpokeRows.tsx';
import { roundName } from './roundName.ts';
import { useMeasuredRound } from './useMeasuredRound.ts';

/** A report of one round that a critic can recompute; printed by the browser. */
export default function Report({ wheel }: { readonly wheel: Wheel }) {
  const heard = wheel.rounds.filter((one) => one.plucks.length > 0);
  const [roundId, setRoundId] = useState('');
  const [beforeId, setBeforeId] = useState('');
  const [gaugeId, setGaugeId] = useState('');
  const round = heard.find((one) => one.id === roundId) ?? heard.at(-1);
  if (round === undefined)
    return (
      <main>
        <p>There is nothing to report before this wheel has been heard.</p>
        <a class="button main-action" href={routeHref({ screen: 'listen', wheelId: wheel.id })}>
          Listen
        </a>
      </main>
    );
  const gauges = (wheel.gauges ?? []).filter((one) => one.rounds.some((two) => two.readings.length > 0));
  const options = (rounds: readonly Round[]) =>
    rounds.toReversed().map((one) => ({ value: one.id, label: roundName(one) }));
  const earlier = heard.filter((one) => one.startedAt < round.startedAt);
  return (
    <>
      <div class="no-print">
        {heard.length > 1 && (
          <SelectField label="Round" value={round.id} options={options(heard)} onChange={setRoundId} />
        )}
        {earlier.length > 0 && (
          <SelectField
            label="Before and after, against"
            value={beforeId}
            options={[{ value: '', label: 'none' }, ...options(earlier)]}
            onChange={setBeforeId}
          />
        )}
        {gauges.length > 1 && (
          <SelectField
            label="Second method"
            value={gaugeId}
            options={gauges.map((one) => ({ value: one.id, label: one.name }))}
            onChange={setGaugeId}
          />
        )}
      </div>
      <RoundReport
        key={round.id}
        wheel={wheel}
        round={round}
        before={earlier.find((one) => one.id === beforeId)}
        gauge={gauges.find((one) => one.id === gaugeId) ?? gauges.at(-1)}
      />
    </>
  );
}

interface Props {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly before: Round | undefined;
  readonly gauge: NonNullable<Wheel['gauges']>[number] | undefined;
}

function RoundReport({ wheel, round, before, gauge }: Props) {
  const measured = useMeasuredRound(wheel, round);
  const measuredBefore = useMeasuredRound(wheel, before);
  const judgement = useJudgement(wheel, round);
  const report = useMemo(() => {
    const readings = rereadRound(
      wheel,
      round,
      measured?.readings ?? {},
      measured?.learned ?? {},
      measured?.calibrations,
    );
    const then = before &&
      measuredBefore && {
        round: before,
        readings: rereadRound(wheel, before, measuredBefore.readings, measuredBefore.learned),
      };
    return reportView(wheel, round, readings, judgement.judged, then);
  }, [wheel, round, measured, before, measuredBefore, judgement]);
  const { unit } = judgement;
  const sentence = headline(judgement);
  const pictures = reportPictures(wheel, judgement);
  const sides = useMemo(() => judgement.laid.map((spoke) => spoke.side), [judgement]);
  const absolute = judgement.kind === 'tension';
  return (
    <main class="judge evidence report">
      <HandOut report={report} judgement={judgement} measured={measured} gauge={gauge} before={before} />
      {judgement.status === 'working' && (
        <p class="no-print" role="status">
          Measuring …
        </p>
      )}
      <ReportHead report={report} unit={unit} />
      <p class="headline">{sentence}</p>
      {!absolute && (
        <p class="note">Evenness only: the spokes are not described, so no tension is computed or implied.</p>
      )}
      <div class="report-pictures keep">
        <Drawing tree={pictures.wheel} />
        <Legend judgement={judgement} />
      </div>
      <p class="soft">Each spoke has one sign here, that of its gravest verdict; the table below gives all of them.</p>
      <section class="keep">
        <h2>Cautions</h2>
        <Cautions />
        <p>
          The method has been checked against simulated wheels, published tables and musical strings; no wheel of known
          tensions has been heard yet.
        </p>
      </section>
      <section class="keep">
        <h2>The round unrolled</h2>
        <TwoWidths draw={(width) => (width === 'narrow' ? pictures.narrowStrip : pictures.strip)} />
        <p class="soft">{STRIP_KEY}</p>
      </section>
      <h2>Every spoke</h2>
      <SpokeRows report={report} judgement={judgement} />
      {absolute && <ReportSides report={report} unit={unit} />}
      {before && <ReportChange wheel={wheel} before={before} judgement={judgement} report={report} />}
      {absolute && (
        <>
          <ReportMethod />
          <ReportMembers report={report} />
          {measured?.status === 'ready' && <ReportKnown report={report} unit={unit} />}
          <ReportWorked report={report} />
        </>
      )}
      <ReportSound report={report} />
      {absolute && (
        <section class="keep">
          <h2>Repeatability by ear</h2>
          <EarRepeats wheel={wheel} round={round} unit={unit} />
        </section>
      )}
      {gauge && absolute && (
        <SecondMethod wheel={wheel} round={round} gauge={gauge} sides={sides} measured={measured} unit={unit} />
      )}
      <div class="signature keep">
        <span>Place, date</span>
        <span>Name, signature</span>
      </div>
    </main>
  );
}
