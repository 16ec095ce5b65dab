import type { CaptureSettings } from '../contract.ts';
import { type BeforeComparison, compareBefore } from './beforeAfter.ts';
import { type CalibrationUsed, calibrationsUsed } from './calibrationsUsed.ts';
import { CHART_SCHEME } from './gaugeChart.ts';
import type { JudgedSide, JudgedSpoke, WheelJudgement } from './judgeWheel.ts';
import type { RoundReadings } from './readRound.ts';
import { type ReportMember, reportMembers } from './reportMembers.ts';
import type { Pluck, Round, Wheel } from './wheel.ts';
import { type WorkedLine, workedLine } from './workedLine.ts';

/** One line of the table. Figures in newtons and percent; absent where there is none. */
export interface ReportSpoke {
  readonly judged: JudgedSpoke;
  readonly plucks: number;
  /** Tones that the reading rests on, with the mode each was taken for. */
  readonly tones: readonly {
    readonly frequencyHz: number;
    readonly mode: number;
    readonly family: string;
    readonly residualPercent?: number;
  }[];
  readonly kindId?: string;
}

export interface ReportView {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly spokes: readonly ReportSpoke[];
  readonly sides: { readonly left?: JudgedSide; readonly right?: JudgedSide };
  readonly judgement: WheelJudgement;
  readonly members: readonly ReportMember[];
  /** The wheel's known tensions and what became of each in this round. */
  readonly known: readonly CalibrationUsed[];
  readonly worked?: WorkedLine;
  readonly settings?: CaptureSettings;
  /** Microphone settings that edit the sound and were not off. */
  readonly processing: readonly ('echoCancellation' | 'noiseSuppression' | 'autoGainControl')[];
  readonly counts: {
    readonly heard: number;
    readonly refused: number;
    readonly skipped: number;
    readonly plucks: number;
    readonly putAside: number;
  };
  readonly before?: BeforeComparison;
  readonly chartScheme: string;
}

/**
 * Everything that a printed report tells, as data: the same for the page, the CSV and the desk.
 *
 * @param before An earlier round and its readings, for before and after.
 */
export function reportView(
  wheel: Wheel,
  round: Round,
  readings: RoundReadings,
  judgement: WheelJudgement,
  before?: { readonly round: Round; readonly readings: RoundReadings },
): ReportView {
  const spokes = judgement.spokes.map((judged): ReportSpoke => {
    const { reading } = judged;
    const kindId = readings.described.get(judged.number)?.kindId;
    return {
      judged,
      plucks: readings.used.get(judged.number)?.length ?? 0,
      tones: reading?.ok
        ? reading.assignment
            .filter((one) => one.mode > 0)
            .map(({ frequencyHz, mode, family, residualPercent }) => ({
              frequencyHz,
              mode,
              family,
              ...(residualPercent === undefined ? {} : { residualPercent }),
            }))
        : [],
      ...(kindId === undefined ? {} : { kindId }),
    };
  });
  const worked = workedLine(judgement, readings);
  const settings = round.settings;
  const processing = (['echoCancellation', 'noiseSuppression', 'autoGainControl'] as const).filter(
    (one) => settings?.[one] === true,
  );
  const heard = judgement.spokes.filter((one) => one.reading?.ok).length;
  return {
    wheel,
    round,
    spokes,
    sides: judgement.sides,
    judgement,
    members: reportMembers(wheel, readings),
    known: calibrationsUsed(wheel, round, readings),
    ...(worked ? { worked } : {}),
    ...(settings ? { settings } : {}),
    processing,
    counts: {
      heard,
      refused: judgement.spokes.filter((one) => one.reading && !one.reading.ok).length,
      skipped: round.skipped.length,
      plucks: round.plucks.length,
      putAside: round.plucks.filter((pluck: Pluck) => pluck.putAside).length,
    },
    ...(before ? { before: compareBefore(wheel, round, judgement, before) } : {}),
    chartScheme: CHART_SCHEME,
  };
}
