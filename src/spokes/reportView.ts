import type { CaptureSettings, Contribution, UncertainInput } from '../contract.ts';
import { lnStiffnessOf } from '../physics/clampedness.ts';
import type { Learned } from '../physics/spokeTones.ts';
import { hertz } from '../units.ts';
import type { DescribedSpoke } from './describeMember.ts';
import { CHART_SCHEME } from './gaugeChart.ts';
import type { JudgedSide, JudgedSpoke, WheelJudgement } from './judgeWheel.ts';
import type { RoundReadings } from './readRound.ts';
import type { Pluck, Round, Side, SpokeKind, Wheel } from './wheel.ts';
import { type WorkedBounds, workedBounds } from './workedBounds.ts';

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

/** The member of one side and kind, for the member table. */
export interface ReportMember {
  readonly side: Side;
  readonly kind: SpokeKind;
  /** The first spoke of the group. */
  readonly described: DescribedSpoke;
  readonly learned?: Learned;
  /** The ends' rotational stiffness that the learned clampedness means at the group's mean tension. */
  readonly ends?: { readonly hubNmPerRad: number; readonly rimNmPerRad: number };
  /** Mean contributions over the group, percent of tension, largest first. */
  readonly budget: readonly {
    readonly input: UncertainInput;
    readonly scope: Contribution['scope'];
    readonly percent: number;
  }[];
  readonly uOwnPercent: number;
  readonly uCommonPercent: number;
}

/** One spoke followed with a calculator. */
export interface WorkedLine {
  readonly spoke: number;
  /** First tone of the part that rings, mean of its plucks, Hz. */
  readonly firstHz: number;
  /** In which it was taken to move. */
  readonly plane: 'inPlane' | 'across';
  /** The bounds take its crossing as one that does not give. */
  readonly crossed: boolean;
  readonly bounds: WorkedBounds;
  /** Its tones as heard (mean of the plucks), and as the member has them at the tension found, Hz. */
  readonly tones: readonly { readonly mode: number; readonly heardHz: number; readonly modelHz: number }[];
  /** What stiffness, ends and the crossing take off: tension over the string's. */
  readonly factor: number;
  readonly tensionN: number;
}

export interface ReportView {
  readonly wheel: Wheel;
  readonly round: Round;
  readonly spokes: readonly ReportSpoke[];
  readonly sides: { readonly left?: JudgedSide; readonly right?: JudgedSide };
  readonly judgement: WheelJudgement;
  readonly members: readonly ReportMember[];
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
  readonly before?: readonly BeforeAfter[];
  readonly chartScheme: string;
}

export interface BeforeAfter {
  readonly spoke: number;
  readonly side: Side;
  readonly beforeN: number;
  readonly afterN: number;
  /** Standard uncertainty of the change: own parts only, for the rest is the same in both. */
  readonly uChangeN: number;
}

/**
 * Everything that a printed report tells, as data: the same for the page, the CSV and the desk.
 *
 * @param before An earlier round's readings, for before and after.
 */
export function reportView(
  wheel: Wheel,
  round: Round,
  readings: RoundReadings,
  judgement: WheelJudgement,
  before?: RoundReadings,
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
    ...(before ? { before: beforeAfter(judgement, before) } : {}),
    chartScheme: CHART_SCHEME,
  };
}

function reportMembers(wheel: Wheel, { described, readings, learned }: RoundReadings): readonly ReportMember[] {
  const groups = new Map<string, number[]>();
  for (const [spoke, one] of described) groups.set(one.group, [...(groups.get(one.group) ?? []), spoke]);
  return [...groups].flatMap(([group, spokes]): ReportMember[] => {
    const [first] = spokes;
    const example = first === undefined ? undefined : described.get(first);
    const kind = example && wheel.kinds[example.kindId];
    if (!example || !kind) return [];
    const taken = spokes.flatMap((spoke) => {
      const reading = readings.get(spoke);
      return reading?.ok ? [reading] : [];
    });
    const parts = new Map<string, { input: UncertainInput; scope: Contribution['scope']; squares: number }>();
    for (const { contributions, tensionN } of taken) {
      for (const { input, scope, uN } of contributions) {
        const key = `${input} ${scope}`;
        const part = parts.get(key) ?? { input, scope, squares: 0 };
        part.squares += (uN / tensionN) ** 2 / taken.length;
        parts.set(key, part);
      }
    }
    const rootMeanSquare = (of: (reading: (typeof taken)[number]) => number) =>
      taken.length === 0
        ? 0
        : 100 * Math.sqrt(taken.reduce((sum, one) => sum + (of(one) / one.tensionN) ** 2, 0) / taken.length);
    const taught = learned.get(group);
    return [
      {
        side: example.spoke.side,
        kind,
        described: example,
        ...(taught ? { learned: taught } : {}),
        ...(taught && taken.length > 0 ? { ends: endStiffness(example, taught, taken) } : {}),
        budget: [...parts.values()]
          .map(({ input, scope, squares }) => ({ input, scope, percent: 100 * Math.sqrt(squares) }))
          .toSorted((a, b) => b.percent - a.percent),
        uOwnPercent: rootMeanSquare((one) => one.uOwnN),
        uCommonPercent: rootMeanSquare((one) => one.uCommonN),
      },
    ];
  });
}

/** At the geometric mean of the tensions, where the clampedness was taken. @source MODEL.md: c = k/(k + √(T·EI)) */
function endStiffness(
  { described: { member } }: DescribedSpoke,
  { hubEnd, rimEnd }: Learned,
  taken: readonly { readonly tensionN: number }[],
): NonNullable<ReportMember['ends']> {
  const tension = Math.exp(taken.reduce((sum, one) => sum + Math.log(one.tensionN), 0) / taken.length);
  const stiffness = (value: number) => Math.exp(lnStiffnessOf(member, value, tension));
  return { hubNmPerRad: stiffness(hubEnd.value), rimNmPerRad: stiffness(rimEnd.value) };
}

/** The spoke in the middle of those whose first tone was heard. */
function workedLine(judgement: WheelJudgement, { described }: RoundReadings): WorkedLine | undefined {
  const ready = judgement.spokes.flatMap(({ number, reading }) => {
    const one = described.get(number);
    if (!reading?.ok || !one) return [];
    const alone = reading.assignment.filter(
      (tone) => tone.mode > 0 && (tone.family === 'segment' || tone.family === 'whole'),
    );
    const plane: WorkedLine['plane'] = alone.find((tone) => tone.mode === 1)?.plane === 'across' ? 'across' : 'inPlane';
    const ringing = alone.filter((tone) => tone.plane === plane || tone.plane === 'unknown');
    const tones = [...new Set(ringing.map((tone) => tone.mode))]
      .toSorted((x, y) => x - y)
      .map((mode) => {
        const own = ringing.filter((tone) => tone.mode === mode);
        const mean = (of: (tone: (typeof own)[number]) => number) =>
          own.reduce((sum, tone) => sum + of(tone), 0) / own.length;
        return {
          mode,
          heardHz: mean((tone) => tone.frequencyHz),
          modelHz: mean((tone) => tone.frequencyHz / (1 + (tone.residualPercent ?? 0) / 100)),
        };
      });
    const [first] = tones;
    const bounds = first?.mode === 1 ? workedBounds(one.described.member, hertz(first.heardHz), plane) : undefined;
    return first && bounds ? [{ number, reading, one, plane, tones, first, bounds }] : [];
  });
  const chosen = ready[Math.floor(ready.length / 2)];
  if (!chosen) return undefined;
  const { number, reading, one, plane, tones, first, bounds } = chosen;
  return {
    spoke: number,
    firstHz: first.heardHz,
    plane,
    crossed: one.described.member.crossingFromHub !== undefined,
    bounds,
    tones,
    factor: reading.tensionN / bounds.string,
    tensionN: reading.tensionN,
  };
}

/** Spokes read in both rounds. */
export function beforeAfter(
  judgement: WheelJudgement,
  before: Pick<RoundReadings, 'readings'>,
): readonly BeforeAfter[] {
  return judgement.spokes.flatMap(({ number, side, reading }) => {
    const earlier = before.readings.get(number);
    if (!reading?.ok || !earlier?.ok) return [];
    return [
      {
        spoke: number,
        side,
        beforeN: earlier.tensionN,
        afterN: reading.tensionN,
        uChangeN: Math.hypot(reading.uOwnN, earlier.uOwnN),
      },
    ];
  });
}
