import { prepareMember } from '../physics/prepareMember.ts';
import { compareStored, type Reproduction } from '../spokes/compareStored.ts';
import type { StoredReadings } from '../spokes/readingsFile.ts';
import { readRound } from '../spokes/readRound.ts';
import { rememberPrepared } from '../spokes/rememberPrepared.ts';
import type { Wheel } from '../spokes/wheel.ts';
import type { ChosenRound } from './chooseRounds.ts';
import { judgeSpokes } from './judgeSpokes.ts';
import type { SpokeVerdict } from './spokeVerdict.ts';
import { type TaughtRows, taughtRows } from './taughtRows.ts';

export interface RemeasuredRound extends TaughtRows {
  readonly round: string;
  /** From 1, in the file's order. */
  readonly number: number;
  readonly startedAt: string;
  readonly spokes: readonly SpokeVerdict[];
  /** Beside the tensions handed out with the wheel, where they are of this round. */
  readonly stored?: Reproduction;
}

/**
 * The stored rounds of a wheel computed again from their tones: what anybody can do with a wheel file alone.
 *
 * @param stored Tensions that came with it, to be found again.
 */
export function remeasure(
  wheel: Wheel,
  rounds: readonly ChosenRound[],
  stored?: StoredReadings,
): readonly RemeasuredRound[] {
  const prepare = rememberPrepared(prepareMember);
  return rounds.map(({ number, round }) => {
    const read = readRound(wheel, round, prepare);
    return {
      round: round.id,
      number,
      startedAt: round.startedAt,
      spokes: judgeSpokes(wheel, round, [...read.readings.keys()], read),
      ...taughtRows(wheel, round, read),
      ...(stored?.roundId === round.id && wheel.layout.kind !== 'evenness'
        ? { stored: compareStored(stored, read.readings) }
        : {}),
    };
  });
}
