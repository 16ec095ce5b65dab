import { median } from '../spokes/median.ts';
import type { ArchivedRecording } from '../spokes/readArchive.ts';
import type { Wheel } from '../spokes/wheel.ts';
import type { ChosenRound } from './chooseRounds.ts';
import { type Measured, type MeasureOptions, measure } from './measure.ts';
import type { SpokeVerdict } from './spokeVerdict.ts';

export interface HeardAgain extends Measured {
  /** From the tensions of the stored tones, where both give one. */
  readonly compared: number;
  readonly medianDifferencePercent?: number;
  readonly largestDifferencePercent?: number;
}

/**
 * The archive's recordings of one round, heard again from their samples, each credited to the spoke that its name says.
 *
 * A recording is a short excerpt, cut when the ear had what it wanted: the tones come out again, not to the last digit.
 *
 * @param before What the stored tones gave.
 */
export function hearAgain(
  wheel: Wheel,
  { number, round }: ChosenRound,
  recordings: readonly ArchivedRecording[],
  before: readonly SpokeVerdict[],
  explain?: MeasureOptions['explain'],
): HeardAgain {
  const files = recordings
    .filter((one) => one.round === number)
    .map(({ name, spoke, bytes }) => ({ name, spoke, bytes }));
  // A known tension of this very round goes on being known.
  const calibrations = wheel.calibrations.map(({ roundId, ...one }) =>
    roundId === undefined || roundId === round.id ? one : { ...one, roundId },
  );
  const measured = measure({ ...wheel, calibrations, state: round.state }, files, {
    crediting: { by: 'from', from: 1 },
    // A spoke of which no pluck is stored was still asked for as every other one.
    ...(round.how.crossing === 'free' && { crossing: 'free' }),
    plucked: new Map(round.plucks.filter((pluck) => !pluck.putAside).map(({ spoke, how }) => [spoke, how])),
    ...(explain && { explain }),
  });
  const differences = measured.spokes.flatMap(({ spoke, tensionN }) => {
    const stored = before.find((one) => one.spoke === spoke)?.tensionN;
    return tensionN === undefined || stored === undefined ? [] : [100 * Math.abs(tensionN / stored - 1)];
  });
  return {
    ...measured,
    compared: differences.length,
    ...(differences.length > 0 && {
      medianDifferencePercent: median(differences),
      largestDifferencePercent: Math.max(...differences),
    }),
  };
}
