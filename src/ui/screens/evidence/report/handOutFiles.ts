import { toMarkup } from '../../../../drawing/toMarkup.ts';
import { compareMethods } from '../../../../spokes/compareMethods.ts';
import type { Gauge } from '../../../../spokes/gauge.ts';
import { writeReadings } from '../../../../spokes/readingsFile.ts';
import { reportCsv } from '../../../../spokes/reportCsv.ts';
import type { ReportView } from '../../../../spokes/reportView.ts';
import { secondReadings } from '../../../../spokes/secondReadings.ts';
import type { Side } from '../../../../spokes/wheel.ts';
import { VERSION } from '../../../parts/version.ts';
import type { MeasuredRound } from '../../../store/appState.ts';
import type { Judgement } from '../../judge/judgementOf.ts';
import { earReadings } from '../earReadings.ts';
import { gaugeCsv } from '../gaugeCsv.ts';
import { agreementPlot } from '../SideAgreement.tsx';
import { changePicture, reportPictures } from './reportPictures.ts';

interface HandedOut {
  readonly report: ReportView;
  readonly judgement: Judgement;
  readonly measured: MeasuredRound | undefined;
  readonly gauge: Gauge | undefined;
  /** Of the round before, where the report shows one. */
  readonly earlier: Judgement | undefined;
}

/** Everything of one report that is a text: table, pictures, gauge readings, and what each file is, by file name. */
export function handOutFiles({
  report,
  judgement,
  measured,
  gauge,
  earlier,
}: HandedOut): Readonly<Record<string, string>> {
  const { wheel } = report;
  const pictures = reportPictures(wheel, judgement);
  const sides: readonly Side[] = judgement.laid.map((spoke) => spoke.side);
  const beside = { wheel, state: report.round.state };
  const second = gauge && secondReadings(gauge, sides, beside);
  const comparison = second && compareMethods([earReadings(measured)], second.readings, sides);
  return {
    'report.csv': reportCsv(report, judgement.unit),
    ...(measured?.status === 'ready' ? { 'readings.json': storedReadings(report, measured) } : {}),
    'wheel.svg': toMarkup(pictures.wheel),
    'strip.svg': toMarkup(pictures.strip),
    ...(earlier ? { 'before-after.svg': toMarkup(changePicture(wheel, earlier, judgement)) } : {}),
    ...(gauge ? { 'gauge.csv': gaugeCsv(gauge, sides, beside) } : {}),
    ...Object.fromEntries(
      (comparison?.sides ?? []).map((one) => [
        `difference-${one.side}.svg`,
        toMarkup(agreementPlot(one, judgement.unit)),
      ]),
    ),
    'read-me.txt': readMe(report),
  };
}

const storedReadings = ({ round }: ReportView, measured: MeasuredRound): string =>
  writeReadings(
    `Ringtrue ${VERSION}`,
    round.id,
    Object.entries(measured.readings).map(([spoke, reading]) => [Number(spoke), reading]),
  );

const readMe = ({ wheel, round }: ReportView): string =>
  [
    `Ringtrue ${VERSION}: "${wheel.name}", round of ${round.startedAt}`,
    '',
    'wheel.json      the wheel with every round, its tones and their uncertainties: all that the tensions are computed from',
    'readings.json   the tensions of this round in newtons, not rounded, for whoever computes them again',
    'report.csv      one line a spoke, units in the head (RFC 4180)',
    'gauge.csv       what a second instrument read, if there is one',
    '*.svg           the pictures of the report',
    'round-N/*.wav   recordings of single plucks, if they were kept: spoke number, then count',
    '',
    'The tensions follow from wheel.json alone; the recordings serve to hear the plucks again.',
    'At a desk, with the source: npm run --silent measure -- THIS.zip computes them from the tones and compares; with',
    '--hear-again it goes back to the recordings.',
    'A reading from an app alone never clears a wheel to ride.',
    '',
  ].join('\r\n');
