import type { MeasureRefusal, Reading } from '../contract.ts';
import type { Learned } from '../physics/spokeTones.ts';
import { type DescribedSpoke, describeLaidSpoke } from './describeMember.ts';
import { expandLayout } from './expandLayout.ts';
import type { RoundReadings } from './readRound.ts';
import { settlingOf } from './walkRound.ts';
import type { Pluck, Round, Wheel } from './wheel.ts';

/**
 * Puts tensions that were computed elsewhere (a worker, a file) beside the description and the plucks that they rest on.
 *
 * @param readings By spoke number.
 * @param learned By group.
 * @param calibrations By calibration that brings tones of its own.
 */
export function rereadRound(
  wheel: Wheel,
  round: Round,
  readings: Readonly<Record<number, Reading | MeasureRefusal>>,
  learned: Readonly<Record<string, Learned>>,
  calibrations: Readonly<Record<string, Reading | MeasureRefusal>> = {},
): RoundReadings {
  const laid = expandLayout(wheel.layout);
  const places = laid.ok ? laid.spokes : [];
  const sides = places.map((spoke) => spoke.side);
  const described = new Map<number, DescribedSpoke>();
  const used = new Map<number, readonly Pluck[]>();
  for (const spoke of places) {
    const { agreeing } = settlingOf({ round, sides }, spoke.number);
    const one = describeLaidSpoke(wheel, spoke);
    if (agreeing.length === 0 || !one.ok) continue;
    described.set(spoke.number, one);
    used.set(spoke.number, agreeing);
  }
  return {
    readings: new Map(Object.entries(readings).map(([spoke, reading]) => [Number(spoke), reading])),
    learned: new Map(Object.entries(learned)),
    described,
    used,
    calibrations: new Map(Object.entries(calibrations)),
  };
}
