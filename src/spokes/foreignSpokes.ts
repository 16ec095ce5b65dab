import { expandLayout } from './expandLayout.ts';
import type { Wheel } from './wheel.ts';
import type { WheelProblem } from './wheelProblem.ts';

/**
 * Rounds with plucks or readings of spokes that the wheel does not have, as a file written by hand or for another wheel brings them: they
 * stay on file, count for nothing, and must be said.
 *
 * @returns One for each such round, its place under `wheel`; none where the wheel cannot be laid out.
 */
export function foreignSpokes(wheel: Wheel): readonly WheelProblem[] {
  const laid = expandLayout(wheel.layout);
  if (!laid.ok) return [];
  const count = laid.spokes.length;
  const foreign = (path: string, spokes: readonly number[]): readonly WheelProblem[] => {
    const unknown = [...new Set(spokes.filter((spoke) => spoke > count))].toSorted((a, b) => a - b);
    if (unknown.length === 0) return [];
    return [{ path, reason: 'noSuchSpoke', detail: `${unknown.join(', ')}; 1–${count}` }];
  };
  return [
    ...wheel.rounds.flatMap(({ plucks }, i) =>
      foreign(
        `rounds.${i}`,
        plucks.map(({ spoke }) => spoke),
      ),
    ),
    ...(wheel.gauges ?? []).flatMap(({ rounds }, g) =>
      rounds.flatMap(({ readings }, i) =>
        foreign(
          `gauges.${g}.rounds.${i}`,
          readings.map(({ spoke }) => spoke),
        ),
      ),
    ),
  ];
}
