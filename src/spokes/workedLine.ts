import { hertz } from '../units.ts';
import type { WheelJudgement } from './judgeWheel.ts';
import { type PrintedFigures, printedFigures } from './printedFigures.ts';
import type { RoundReadings } from './readRound.ts';
import { type WorkedBounds, workedBounds } from './workedBounds.ts';

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
  readonly tensionN: number;
  readonly printed: PrintedFigures;
}

/** The spoke in the middle of those whose first tone was heard. */
export function workedLine(judgement: WheelJudgement, { described }: RoundReadings): WorkedLine | undefined {
  const ready = judgement.spokes.flatMap(({ number, reading, limit }) => {
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
    return first && bounds ? [{ number, reading, limit, one, plane, tones, first, bounds }] : [];
  });
  const chosen = ready[Math.floor(ready.length / 2)];
  if (!chosen) return undefined;
  const { number, reading, limit, one, plane, tones, first, bounds } = chosen;
  return {
    spoke: number,
    firstHz: first.heardHz,
    plane,
    crossed: one.described.member.crossingFromHub !== undefined,
    bounds,
    tones,
    tensionN: reading.tensionN,
    printed: printedFigures(bounds, first.heardHz, reading, limit),
  };
}
