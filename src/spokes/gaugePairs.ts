import type { Reading } from '../contract.ts';
import type { CalibrationPair } from './calibrateGauge.ts';
import type { SecondReadings } from './secondReadings.ts';
import type { Calibration, Side } from './wheel.ts';

export interface SidePairs {
  readonly side: Side;
  readonly shows: 'tension' | 'marks';
  readonly pairs: readonly CalibrationPair[];
  /** Spokes whose reading by ear was pulled by a known tension of their own: no part in it. */
  readonly excluded: readonly number[];
}

/** What a gauge showed beside what the ear heard, side by side, ready for calibrating the one by the other. */
export function gaugePairs(
  second: Pick<SecondReadings, 'readings' | 'marks'>,
  ear: ReadonlyMap<number, Reading>,
  sides: readonly Side[],
  calibrations: readonly Calibration[],
): readonly SidePairs[] {
  const known = new Set(calibrations.flatMap((one) => (one.kind === 'inWheel' && one.spoke ? [one.spoke] : [])));
  return (['left', 'right'] as const).flatMap((side): SidePairs[] => {
    const spokes = sides.flatMap((one, i) => (one === side ? [i + 1] : []));
    const shows = spokes.some((spoke) => second.readings.has(spoke)) ? 'tension' : 'marks';
    const both = spokes.flatMap((spoke) => {
      const shown = shows === 'tension' ? second.readings.get(spoke)?.valuesN : second.marks.get(spoke);
      const reading = ear.get(spoke);
      return shown && reading ? [{ spoke, shown, reading }] : [];
    });
    if (both.length === 0) return [];
    return [
      {
        side,
        shows,
        pairs: both
          .filter(({ spoke }) => !known.has(spoke))
          .map(({ spoke, shown, reading: { tensionN, uOwnN, uCommonN } }) => ({
            spoke,
            shown,
            earN: tensionN,
            uOwnN,
            uCommonN,
          })),
        excluded: both.flatMap(({ spoke }) => (known.has(spoke) ? [spoke] : [])),
      },
    ];
  });
}
