import { pictureWheel } from '../../drawing/pictureWheel.ts';
import { stripDrawing } from '../../drawing/stripDrawing.ts';
import { wheelDrawing } from '../../drawing/wheelDrawing.ts';
import type { ReportView } from '../../spokes/reportView.ts';
import type { Round, Side, Wheel, WheelState } from '../../spokes/wheel.ts';
import { Drawing } from '../parts/Drawing.tsx';
import { VERSION } from '../parts/version.ts';
import { Cautions } from './Cautions.tsx';
import { headline } from './judge/headline.ts';
import type { Judgement } from './judge/judgementOf.ts';
import { Legend } from './judge/Legend.tsx';
import { SideFigures } from './judge/SideFigures.tsx';
import { tensionText } from './judge/showTension.ts';
import { stripOf } from './judge/stripOf.ts';
import { useJudgement } from './judge/useJudgement.ts';
import { useMeasured } from './judge/useMeasured.ts';
import { BeforeAfterPart } from './report/BeforeAfterPart.tsx';
import { HandOut } from './report/HandOut.tsx';
import { MethodPart } from './report/MethodPart.tsx';
import { SpokeRows } from './report/SpokeRows.tsx';
import { useReport } from './report/useReport.ts';
import { layoutGist } from './wheelGist.ts';

/** A report of the last round that anyone can check; printed by the browser. */
export default function Report({ wheel }: { readonly wheel: Wheel }) {
  const round = wheel.rounds.findLast((one) => one.plucks.length > 0);
  if (round === undefined)
    return (
      <main>
        <p>There is nothing to report before this wheel has been heard.</p>
      </main>
    );
  return <RoundReport wheel={wheel} round={round} />;
}

function RoundReport({ wheel, round }: { readonly wheel: Wheel; readonly round: Round }) {
  useMeasured(wheel, round);
  const judgement = useJudgement(wheel, round);
  const report = useReport(wheel, round, judgement);
  const label = headline(judgement);
  return (
    <main class="judge report">
      <HandOut report={report} judgement={judgement} />
      <TitleBlock wheel={wheel} round={round} report={report} />
      <p class="headline">{label}</p>
      <div class="report-pictures keep">
        <div>
          <Drawing
            tree={wheelDrawing(
              pictureWheel(judgement.laid, (number) => judgement.spokes.get(number)?.mark ?? 'waiting'),
              { label: `The wheel as heard. ${label}`, numberFlagged: true },
            )}
          />
          <Legend judgement={judgement} />
        </div>
        <Drawing
          tree={stripDrawing(stripOf(wheel, judgement), { label: `The round unrolled. ${label}`, letterSize: 14 })}
        />
      </div>
      <LimitsPart wheel={wheel} judgement={judgement} />
      <h2>All spokes</h2>
      <SpokeRows report={report} judgement={judgement} />
      <SideFigures wheel={wheel} judgement={judgement} />
      <BeforeAfterPart report={report} judgement={judgement} />
      {judgement.kind === 'tension' && <MethodPart report={report} />}
      <Capture report={report} />
      <h2>Cautions</h2>
      <Cautions />
      <p>
        The method is checked on simulated wheels and on musical strings; no wheel of known tensions has been heard yet.
      </p>
      <p class="signature">Date, name, signature</p>
    </main>
  );
}

function TitleBlock({
  wheel,
  round,
  report,
}: {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly report: ReportView;
}) {
  const cells: readonly (readonly [string, string])[] = [
    ['Wheel', wheel.name],
    ['Lacing', layoutGist(wheel.layout)],
    ['Heard', round.startedAt.slice(0, 16).replace('T', ' ')],
    ['By', round.person === undefined || round.person === '' ? 'not named' : round.person],
    ['State', stateText(round.state)],
    [
      'Crossings',
      `${round.how.crossing}, plucked ${round.how.direction === 'inPlane' ? 'along the rim' : round.how.direction}`,
    ],
    [
      'Spokes',
      `${report.counts.heard} with a figure, ${report.counts.refused} without, ${report.counts.skipped} passed over`,
    ],
    ['Made with', `Ringtrue ${VERSION}`],
  ];
  return (
    <dl class="report-block">
      {cells.map(([term, text]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}

const stateText = (state: WheelState): string =>
  [
    `tyre ${state.tyre === 'unknown' ? 'not known' : state.tyre}`,
    state.pressureBar === undefined ? undefined : `${state.pressureBar} bar`,
    state.temperatureC === undefined ? 'temperature not given' : `${state.temperatureC} °C`,
  ]
    .filter((part) => part !== undefined)
    .join(', ');

function LimitsPart({ wheel, judgement }: { readonly wheel: Wheel; readonly judgement: Judgement }) {
  if (wheel.sides === undefined) return null;
  const line = (side: Side): string => {
    const limits = wheel.sides?.[side].limits;
    if (limits === undefined || (limits.maximumN === undefined && limits.minimumN === undefined))
      return `${side}: none given, none judged`;
    const figures = [
      limits.minimumN === undefined ? undefined : `at least ${tensionText(limits.minimumN, judgement.unit)}`,
      limits.maximumN === undefined ? undefined : `at most ${tensionText(limits.maximumN, judgement.unit)}`,
    ].filter((part) => part !== undefined);
    return `${side}: ${figures.join(', ')}; source: ${limits.source === '' ? 'not stated' : limits.source}; holds for ${stateText(limits.state)}`;
  };
  return (
    <section class="keep" aria-label="Limits">
      <h2>Limits and target</h2>
      <ul>
        <li>{line('left')}</li>
        <li>{line('right')}</li>
        <li>evenness: ± {wheel.targetPercent} % of the side’s mean</li>
      </ul>
    </section>
  );
}

function Capture({ report }: { readonly report: ReportView }) {
  const { settings } = report;
  const told = (value: boolean | undefined) => (value === undefined ? 'not told' : value ? 'ON' : 'off');
  return (
    <section class="keep" aria-label="Microphone">
      <h2>Microphone, as read back</h2>
      {settings === undefined ? (
        <p>Not recorded with this round.</p>
      ) : (
        <p>
          {settings.sampleRateHz} samples a second; echo cancellation {told(settings.echoCancellation)}, noise
          suppression {told(settings.noiseSuppression)}, gain control {told(settings.autoGainControl)}; device{' '}
          {settings.deviceLabel ?? 'not named'}.
          {report.processing.length > 0 && ' The system edited the sound: tones may be bent.'}
        </p>
      )}
      <p>
        {report.counts.plucks} plucks taken, {report.counts.putAside} of them put aside.
      </p>
    </section>
  );
}
