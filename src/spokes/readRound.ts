import type { MeasureRefusal, Reading } from '../contract.ts';
import { measureWheel } from '../physics/measureWheel.ts';
import type { Learned } from '../physics/spokeTones.ts';
import type { DescribedSpoke } from './describeMember.ts';
import type { Prepare } from './rememberPrepared.ts';
import { spokeTonesOf } from './spokeTonesOf.ts';
import type { Pluck, Round, Wheel } from './wheel.ts';

export interface RoundReadings {
  /** By spoke number; a spoke that was not heard is absent. */
  readonly readings: ReadonlyMap<number, Reading | MeasureRefusal>;
  readonly learned: ReadonlyMap<string, Learned>;
  readonly described: ReadonlyMap<number, DescribedSpoke>;
  /** The plucks that each reading rests on. */
  readonly used: ReadonlyMap<number, readonly Pluck[]>;
  /** By calibration: what its own tones, weighed with its load, gave, or why they were not taken. Those without tones are absent. */
  readonly calibrations?: ReadonlyMap<string, Reading | MeasureRefusal>;
}

/**
 * The tensions of a round: plucks to members, members to one joint fit, every spoke's reading or why there is none.
 *
 * @param prepare `rememberPrepared(prepareMember)`, kept from round to round.
 * @param which `settled` for a walked round, `all` for a recording whose plucks somebody credited.
 */
export function readRound(
  wheel: Wheel,
  round: Round,
  prepare: Prepare,
  which: 'settled' | 'all' = 'settled',
): RoundReadings {
  const { tones, refused, described, used, calibrations } = spokeTonesOf(wheel, round, prepare, which);
  const measured = measureWheel(tones);
  const readings = new Map<number, Reading | MeasureRefusal>();
  for (const [spoke, refusal] of refused)
    readings.set(spoke, { ok: false, reason: 'memberIncomplete', detail: `${refusal.field} ${refusal.detail}` });
  for (const [spoke, reading] of measured.readings) if (spoke >= 1) readings.set(spoke, reading);
  const calibrated = new Map<string, Reading | MeasureRefusal>();
  for (const [id, calibration] of calibrations) {
    const reading = measured.readings.get(id);
    // Given to both sides, a refusal by one of them is the news.
    if (reading !== undefined && calibrated.get(calibration)?.ok !== false) calibrated.set(calibration, reading);
  }
  return { readings, learned: measured.learned, described, used, calibrations: calibrated };
}
